import { Nrom } from '../../src/console/cartridge/circuits/nrom.ts';
import type { Slot } from '../../src/console/cartridge/slot.ts';
import { FastRaster } from '../../src/console/raster/fast/fast-raster.ts';
import type { Raster } from '../../src/console/raster/raster.ts';
import { type RasterState, ReferenceRaster } from '../../src/console/raster/reference-raster.ts';
import { ALL_LINES, type LineRange, PictureHistory } from '../../src/picture/picture.ts';
import type { TraceEvent } from '../../src/trace/trace.ts';
import { PICTURE_WIDTH, TIMINGS, type Timing, type TimingId } from '../../src/units/timing.ts';
import { firstDifference } from './difference.ts';
import type { Screen } from './screen.ts';

export interface PairSetup {
  readonly timing: TimingId;
  readonly screen: Screen;
  readonly startTick?: number;
  readonly draws?: LineRange;
  /** NROM with pattern RAM by default; asked once for each unit. */
  readonly slot?: () => Slot;
}

/** One unit of the pair with a world of its own. */
interface Side<Unit extends Raster> {
  readonly raster: Unit;
  readonly slot: Slot;
  readonly history: PictureHistory;
  readonly events: TraceEvent[];
}

/**
 * The reference and the fast raster unit, given the same accesses at the same ticks. Everything that can be seen of them
 * is compared: values read at once, events and whole pictures at each frame's end, states when asked.
 */
export class RasterPair {
  readonly timing: Timing;
  readonly draws: LineRange;
  readonly reference: Side<ReferenceRaster>;
  readonly fast: Side<FastRaster>;
  /** What differed first, in words. */
  difference: string | undefined;
  /** The fast unit gets the access of this number one dot late: an error planted to test the comparison. */
  lateAccess = -1;
  accessCount = 0;
  comparedPictures = 0;
  #tick: number;

  constructor({ timing, screen, startTick = 0, draws = ALL_LINES, slot }: PairSetup) {
    this.timing = TIMINGS[timing];
    this.draws = draws;
    const makeSlot = slot ?? (() => ramSlot(screen));
    this.reference = this.#side(startTick, makeSlot(), (parts) => new ReferenceRaster(parts));
    this.fast = this.#side(startTick, makeSlot(), (parts) => new FastRaster({ ...parts, draws }));
    this.#tick = startTick;
    this.runTo(startTick);
    this.#show(screen);
  }

  #side<Unit extends Raster>(
    startTick: number,
    slot: Slot,
    make: (parts: ConstructorParameters<typeof ReferenceRaster>[0]) => Unit,
  ): Side<Unit> {
    const history = new PictureHistory(3);
    const events: TraceEvent[] = [];
    const targetsForNextPicture = () => [{ isLive: true, x: events.length, y: history.newest, width: 3, height: 4 }];
    const hooks = { targetsForNextPicture };
    const trace = { put: (event: TraceEvent) => events.push(event) };
    return { raster: make({ timing: this.timing, slot, history, trace, hooks, startTick }), slot, history, events };
  }

  /** Warm, with the screen in all memories and its scroll in t; rendering comes on at once. */
  #show(screen: Screen): void {
    for (const { raster, slot } of [this.reference, this.fast]) {
      if (slot.isPatternWritable) slot.pattern.set(screen.pattern);
      const state = raster.save();
      state.nameTables.set(screen.nameTables);
      state.palette.set(screen.palette);
      state.oam.set(screen.oam);
      const { control, mask, scrollX, scrollY } = screen;
      Object.assign(state.registers, { control, mask, activeMask: mask, isWarm: true });
      const t = ((scrollY & 7) << 12) | ((control & 3) << 10) | ((scrollY & 0xf8) << 2) | (scrollX >> 3);
      Object.assign(state.scroll, { v: t, t, x: scrollX & 7 });
      raster.load(state);
    }
  }

  get tick(): number {
    return this.#tick;
  }

  /** Tick of (0,0) of the frame in progress. */
  get frameTick(): number {
    const { history } = this.reference;
    return history.get(history.newest)!.lineZeroTick;
  }

  /** Both to this tick, which is not before the latest. Each frame that ends meanwhile is compared. */
  runTo(tick: number): void {
    const { history } = this.reference;
    const { newest } = history;
    this.reference.raster.runTo(tick);
    this.fast.raster.runTo(tick);
    this.#tick = tick;
    if (history.newest !== newest) this.#compareFrame(newest);
  }

  write(register: number, value: number, tick: number): void {
    this.runTo(tick);
    this.reference.raster.writeRegister(register, value, tick);
    this.#runFastToAccess(tick);
    this.fast.raster.writeRegister(register, value, tick);
  }

  read(register: number, tick: number): number {
    this.runTo(tick);
    const expected = this.reference.raster.readRegister(register, tick);
    this.#runFastToAccess(tick);
    this.#note(`$200${register} read at ${tick}`, this.fast.raster.readRegister(register, tick), expected);
    return expected;
  }

  /** A sprite DMA of 256 bytes that begins at this tick, by bytes on the one side and as a whole on the other. */
  sendSprites(bytes: Uint8Array, tick: number): void {
    const step = 2 * this.timing.cpuDivider;
    const { newest } = this.reference.history;
    this.fast.raster.writeOamPage(bytes, 0, tick, step);
    for (let i = 0; i < 256; i++) {
      this.reference.raster.runTo(tick + i * step);
      this.reference.raster.writeOam(bytes[i]!);
    }
    this.#tick = tick + 255 * step;
    if (this.reference.history.newest !== newest) this.#compareFrame(newest);
  }

  #runFastToAccess(tick: number): void {
    if (this.accessCount === this.lateAccess) this.fast.raster.runTo(tick + this.timing.dotDivider);
    this.accessCount++;
  }

  /** The cartridge switches at this tick. */
  changeSlots(tick: number, change: (slot: Slot) => void): void {
    this.runTo(tick);
    this.fast.raster.beforeSlotChange(tick);
    for (const { slot } of [this.reference, this.fast]) change(slot);
  }

  compareStates(): void {
    this.#note('state', this.fast.raster.save(), this.reference.raster.save());
  }

  /** Each goes on from the other's state. */
  exchangeStates(): void {
    const states: [RasterState, RasterState] = [this.reference.raster.save(), this.fast.raster.save()];
    this.#note('state', states[1], states[0]);
    this.reference.raster.load(states[1]);
    this.fast.raster.load(states[0]);
  }

  /** What the fast unit has put into the picture in progress, as far as it has been drawn by now. */
  comparePictureInProgress(): void {
    this.fast.raster.catchUpTo(this.#tick);
    const { timing } = this;
    const dots = Math.floor((this.#tick - this.frameTick) / timing.dotDivider) + 1;
    const line = Math.floor(dots / timing.dotsPerLine);
    const x = Math.min(PICTURE_WIDTH, Math.max(0, dots - line * timing.dotsPerLine - 1));
    this.#compareCodes(this.reference.history.newest, Math.min(line, 240) * PICTURE_WIDTH + (line < 240 ? x : 0));
  }

  #compareFrame(index: number): void {
    this.#note('events', this.fast.events, this.reference.events);
    this.reference.events.length = 0;
    this.fast.events.length = 0;
    if (index < 0) return;
    this.#compareCodes(index, PICTURE_WIDTH * 240);
    this.comparedPictures++;
  }

  /** The lines drawn, up to before the dot `end` of the picture. */
  #compareCodes(index: number, end: number): void {
    const expected = this.reference.history.get(index)!;
    const found = this.fast.history.get(index)!;
    const last = Math.min(end, (this.draws.lastLine + 1) * PICTURE_WIDTH);
    for (let at = this.draws.firstLine * PICTURE_WIDTH; at < last; at++) {
      if (found.codes[at] === expected.codes[at]) continue;
      const place = `picture ${index}, x ${at % PICTURE_WIDTH} of line ${Math.floor(at / PICTURE_WIDTH)}`;
      this.#note(place, found.codes[at], expected.codes[at]);
      break;
    }
    this.#note(`targets of picture ${index}`, found.targets, expected.targets);
    this.#note(`line 0 of picture ${index}`, found.lineZeroTick, expected.lineZeroTick);
  }

  #note(what: string, found: unknown, expected: unknown): void {
    if (this.difference === undefined) this.difference = firstDifference(what, found, expected);
  }
}

export function ramSlot({ pattern, mirroring }: Pick<Screen, 'pattern' | 'mirroring'>): Slot {
  const parts = { program: new Uint8Array(16384), pattern: new Uint8Array(0), patternRamBytes: 8192, workRamBytes: 0 };
  const slot = new Nrom({ ...parts, mirroring });
  slot.pattern.set(pattern);
  return slot;
}
