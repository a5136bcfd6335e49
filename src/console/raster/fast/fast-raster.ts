import { LatelightError } from '../../../errors/latelight-error.ts';
import { ALL_LINES, type LineRange, type PictureHistory } from '../../../picture/picture.ts';
import type { TraceSink } from '../../../trace/trace.ts';
import type { Timing } from '../../../units/timing.ts';
import type { Raster, RasterHooks } from '../raster.ts';
import { checkRasterState, copyRasterState, newRasterState, type RasterState } from '../raster-state.ts';
import type { RasterParts } from '../reference-raster.ts';
import { NMI_ENABLE, readRegister, writeRegister } from '../register-access.ts';
import { OAM_BYTES } from '../sprite-evaluation.ts';
import { VideoMemory } from '../video-memory.ts';
import { DotProgress } from './dot-progress.ts';
import { type FrameDots, frameDotsOf, nextEventDot, willBeShort } from './frame-dots.ts';
import type { LineParts } from './line-parts.ts';
import { SpriteLines } from './sprite-lines.ts';
import { VideoMap } from './video-map.ts';

export interface FastRasterParts extends RasterParts {
  /** The lines that anybody looks at; all by default. Others are never drawn, everything else stays exact. */
  readonly draws?: LineRange;
}

const PPUCTRL = 0;
const PPUSTATUS = 2;
const OAMDATA = 4;
const PPUDATA = 7;

/** PPUCTRL bits that the picture depends on: sprite height and the two tables. */
const PICTURE_BITS = 0x38;

/** Bits that byte 2 of a sprite has. */
const ATTRIBUTE_BITS = 0xe3;

/**
 * The raster unit in whole lines, equal to the reference in every state, event, read value and code drawn.
 *
 * `runTo` notes a tick; dots are carried out only when something could see it: a write or a read that depends on them,
 * `catchUpTo`, `save`, and the dots of the vblank flag, of its clearing and of the frame's end (`nextEventTick`), where
 * trace events are put and targets asked. Lines without a write are drawn whole, others in exact pieces.
 *
 *     dots of the frame:  0 ......... carried out | noted ......... due | next event
 *                                                  `-- no write in here
 *
 * Status reads draw nothing: hit and overflow come from a forecast that stands until the next write.
 * Whoever switches a bank or the mirroring calls `beforeSlotChange` first. Codes of the picture in progress are there
 * up to a tick after `catchUpTo(tick)`; those of finished pictures are complete.
 */
export class FastRaster implements Raster {
  readonly #timing: Timing;
  readonly #history: PictureHistory;
  readonly #trace: TraceSink;
  readonly #hooks: RasterHooks;
  readonly #drawn: LineRange;
  readonly #state: RasterState;
  readonly #memory: VideoMemory;
  readonly #sprites = new SpriteLines();
  readonly #progress: DotProgress;
  readonly #frame: FrameDots;
  /** The latest tick noted, and that of the next event. */
  #tick: number;
  #eventTick = 0;

  constructor({ timing, slot, history, trace, hooks, startTick = 0, draws = ALL_LINES }: FastRasterParts) {
    this.#timing = timing;
    this.#history = history;
    this.#trace = trace;
    this.#hooks = hooks;
    this.#drawn = draws;
    const state = newRasterState(timing, startTick);
    this.#state = state;
    this.#memory = new VideoMemory(slot, state.nameTables, state.palette);
    const map = new VideoMap(slot, state.nameTables);
    const parts: LineParts = { timing, state, memory: this.#memory, map, sprites: this.#sprites };
    this.#progress = new DotProgress(parts, draws);
    this.#frame = frameDotsOf(timing);
    this.#tick = startTick - timing.dotDivider;
    this.#aimAtEvent();
  }

  runTo(tick: number): void {
    if (tick >= this.#eventTick) this.#carryOutEvents(tick);
    if (tick > this.#tick) this.#tick = tick;
  }

  /**
   * `runTo`, and every dot of the drawn lines up to `tick` stands in the picture in progress. A line that has begun is
   * drawn to its end as it will be if nothing is written; if something is, it is drawn again.
   */
  catchUpTo(tick: number): void {
    this.runTo(tick);
    this.#progress.draw(this.#due());
  }

  /** Before the cartridge switches a bank or its mirroring, or pattern memory is written past the unit. */
  beforeSlotChange(tick: number): void {
    this.runTo(tick);
    this.#progress.advance(this.#due());
    this.#progress.forecast.forget();
  }

  get isNmiLineAsserted(): boolean {
    const { isVblank, control } = this.#state.registers;
    return isVblank && (control & NMI_ENABLE) !== 0;
  }

  /** Calls `runTo` by itself. */
  readRegister(register: number, tick: number): number {
    this.runTo(tick);
    if (register === PPUSTATUS) return this.#readStatus();
    if (register === OAMDATA || register === PPUDATA) {
      this.#progress.advance(this.#due());
      if (register === PPUDATA) this.#progress.forecast.forget();
    }
    return readRegister(this.#state, this.#memory, this.#timing, register);
  }

  /** Calls `runTo` by itself. */
  writeRegister(register: number, value: number, tick: number): void {
    this.runTo(tick);
    this.#trace.put({ kind: 'register-write', tick, address: 0x2000 + register, value });
    const wasAsserted = this.isNmiLineAsserted;
    this.#write(register, value);
    if (!wasAsserted && this.isNmiLineAsserted) this.#trace.put({ kind: 'nmi-raised', tick });
  }

  writeOam(value: number): void {
    this.#write(OAMDATA, value);
  }

  /**
   * A whole sprite DMA: `bytes[from + i]`, i = 0..255, each as `runTo(tick + i * ticksPerByte)` and `writeOam` would do
   * it. The events within it are put; nothing else may happen meanwhile.
   */
  writeOamPage(bytes: Uint8Array, from: number, tick: number, ticksPerByte: number): void {
    this.runTo(tick);
    const lastTick = tick + (OAM_BYTES - 1) * ticksPerByte;
    if (this.#due() > this.#frame.pictureEnd && lastTick < this.#tickOf(this.#frame.preRender)) {
      this.runTo(lastTick);
      this.#progress.advance(this.#due());
      this.#fillOam(bytes, from);
      return;
    }
    for (let i = 0; i < OAM_BYTES; i++) {
      this.runTo(tick + i * ticksPerByte);
      this.#write(OAMDATA, bytes[from + i]!);
    }
  }

  /** 256 writes to OAMDATA while nothing is drawn: the address comes back to where it was. */
  #fillOam(bytes: Uint8Array, from: number): void {
    const { oam, registers } = this.#state;
    let hasChanged = false;
    for (let i = 0; i < OAM_BYTES; i++) {
      const address = (registers.oamAddress + i) & 0xff;
      const value = bytes[from + i]! & (address % 4 === 2 ? ATTRIBUTE_BITS : 0xff);
      if (oam[address] !== value) hasChanged = true;
      oam[address] = value;
    }
    registers.latch = bytes[from + OAM_BYTES - 1]!;
    if (hasChanged) this.#sprites.forget();
  }

  /**
   * The next tick at which `runTo` does something of itself: the dot of the vblank flag (flag, NMI line, events
   * 'vblank' and 'nmi-raised', targets asked), of its clearing, the end of the frame ('frame-start'). At 60 Hz there
   * may be an empty one a dot before the end of an odd frame.
   */
  get nextEventTick(): number {
    return this.#eventTick;
  }

  /** The next dot in which the vblank flag is set, or would be but for a read one dot before. Exact until a write. */
  nextVblankTick(): number {
    return this.#tickInThisOrNextFrame(this.#frame.vblank);
  }

  /** The next dot in which all flags are cleared. Exact until a write. */
  nextClearTick(): number {
    return this.#tickInThisOrNextFrame(this.#frame.clear);
  }

  /** When the NMI line rises next if nothing is written or read meanwhile; Infinity while NMI is disabled. */
  nextNmiTick(): number {
    const { control, isVblankSuppressed } = this.#state.registers;
    if ((control & NMI_ENABLE) === 0) return Infinity;
    if (!isVblankSuppressed) return this.nextVblankTick();
    return this.#nextFrameTick() + this.#frame.vblank * this.#timing.dotDivider;
  }

  /** When sprite 0 hit rises in this frame if nothing is written; Infinity if it is up or will not rise. */
  spriteZeroHitTick(): number {
    return this.#tickOfRise(this.#progress.makeForecast().hitDot);
  }

  /** When the overflow flag rises in this frame if nothing is written; Infinity if it is up or will not rise. */
  overflowTick(): number {
    return this.#tickOfRise(this.#progress.makeForecast().overflowDot);
  }

  /**
   * Until before this tick, bits 7..5 of PPUSTATUS stay as they are if nothing is written or read. Never later than the
   * change; the end of the frame counts as one.
   */
  statusConstantUntil(): number {
    return Math.min(this.#eventTick, this.spriteZeroHitTick(), this.overflowTick());
  }

  /**
   * What reads of PPUSTATUS give from the latest tick on, as long as its flags stay; they do no more than the first of them
   * has done. -1 while the vblank flag is set, since a read clears it. Changes nothing that could be seen.
   */
  steadyStatus(): number {
    const { registers } = this.#state;
    return registers.isVblank ? -1 : (registers.latch & 0x1f) | this.#progress.flagsAt(this.#due());
  }

  /** Draws what is due: copy pictures afterwards. */
  save(): RasterState {
    this.#progress.advance(this.#due());
    const { clock } = this.#state;
    clock.nextTick = this.#tickOf(this.#progress.next);
    const copy = newRasterState(this.#timing, 0);
    copyRasterState(this.#state, copy);
    return copy;
  }

  /** The lines drawn of the picture in progress shrink to those that this unit goes on drawing. */
  load(state: RasterState): void {
    checkRasterState(state, this.#timing);
    const { clock } = state;
    if (clock.frame !== this.#history.newest) {
      const expected = `${this.#history.newest}, the picture in progress`;
      throw new LatelightError('STATE_FIELD', { field: 'raster.clock.frame', found: clock.frame, expected });
    }
    this.#checkTick(state);
    copyRasterState(state, this.#state);
    const picture = this.#history.get(clock.frame);
    if (picture !== undefined) picture.drawn = commonLines(picture.drawn, this.#drawn);
    this.#progress.resume(clock.line * this.#timing.dotsPerLine + clock.dot + 1, picture?.codes);
    this.#tick = clock.nextTick - this.#timing.dotDivider;
    this.#sprites.forget();
    this.#aimAtEvent();
  }

  #checkTick({ clock }: RasterState): void {
    const { dotsPerLine, dotDivider } = this.#timing;
    const expected = clock.frameTick + (clock.line * dotsPerLine + clock.dot + 1) * dotDivider;
    if (clock.nextTick === expected) return;
    throw new LatelightError('STATE_FIELD', { field: 'raster.clock.nextTick', found: clock.nextTick, expected });
  }

  /** Number of dots of this frame whose first tick has come. */
  #due(): number {
    return Math.floor((this.#tick - this.#state.clock.frameTick) / this.#timing.dotDivider) + 1;
  }

  #tickOf(dot: number): number {
    return this.#state.clock.frameTick + dot * this.#timing.dotDivider;
  }

  #tickOfRise(dot: number): number {
    return dot < this.#due() ? Infinity : this.#tickOf(dot);
  }

  // Events

  #carryOutEvents(tick: number): void {
    while (tick >= this.#eventTick) {
      const eventTick = this.#eventTick;
      const dot = (eventTick - this.#state.clock.frameTick) / this.#timing.dotDivider;
      if (dot === this.#frame.vblank) {
        this.#progress.advance(dot + 1);
        this.#beginVblank(eventTick);
      } else if (dot === this.#frame.clear) this.#progress.advance(dot + 1);
      else {
        this.#progress.advance(dot);
        if (dot === this.#frame.end || this.#state.clock.isShort) this.#beginFrame(eventTick);
      }
      this.#aimAtEvent();
    }
  }

  #aimAtEvent(): void {
    this.#eventTick = this.#tickOf(nextEventDot(this.#state, this.#timing, this.#frame, this.#progress.next));
  }

  #beginVblank(tick: number): void {
    const { registers } = this.#state;
    registers.isVblank = !registers.isVblankSuppressed;
    registers.isVblankSuppressed = false;
    this.#trace.put({ kind: 'vblank', tick });
    this.#state.targets = this.#hooks.targetsForNextPicture();
    if (this.isNmiLineAsserted) this.#trace.put({ kind: 'nmi-raised', tick });
  }

  #beginFrame(tick: number): void {
    const { clock, targets } = this.#state;
    clock.frameTick = tick;
    clock.isShort = false;
    clock.frame++;
    const picture = this.#history.begin(tick, targets, this.#drawn);
    this.#progress.resume(0, picture.codes);
    this.#trace.put({ kind: 'frame-start', tick, index: picture.index });
  }

  #tickInThisOrNextFrame(dot: number): number {
    if (dot >= this.#due()) return this.#tickOf(dot);
    return this.#nextFrameTick() + dot * this.#timing.dotDivider;
  }

  #nextFrameTick(): number {
    const isShort = willBeShort(this.#state, this.#timing, this.#frame, this.#progress.next);
    return this.#tickOf(this.#frame.end - (isShort ? 1 : 0));
  }

  // Registers

  #write(register: number, value: number): void {
    const { oam, registers } = this.#state;
    if (!this.#isWithoutTrace(register, value)) {
      this.#progress.advance(this.#due());
      this.#progress.forecast.forget();
    }
    const { oamAddress } = registers;
    const old = oam[oamAddress]!;
    writeRegister(this.#state, this.#memory, this.#timing, register, value);
    if (oam[oamAddress] !== old) this.#sprites.forget();
  }

  /** A write that no dot can tell, now or later: to PPUSTATUS, and of the NMI enable or the increment alone. */
  #isWithoutTrace(register: number, value: number): boolean {
    if (register === PPUSTATUS) return true;
    if (register !== PPUCTRL) return false;
    const { registers, scroll } = this.#state;
    const isSameTable = ((scroll.t >> 10) & 3) === (value & 3);
    return !registers.isWarm || (isSameTable && ((registers.control ^ value) & PICTURE_BITS) === 0);
  }

  /** Reading one dot before the flag keeps it from being set, as in `register-access.ts`. */
  #readStatus(): number {
    const { registers, scroll } = this.#state;
    const due = this.#due();
    const value = (registers.latch & 0x1f) | this.#progress.flagsAt(due) | (registers.isVblank ? 0x80 : 0);
    registers.isVblank = false;
    scroll.w = 0;
    if (due === this.#frame.vblank) registers.isVblankSuppressed = true;
    registers.latch = value;
    return value;
  }
}

const commonLines = (a: LineRange, b: LineRange): LineRange => ({
  firstLine: Math.max(a.firstLine, b.firstLine),
  lastLine: Math.min(a.lastLine, b.lastLine),
});
