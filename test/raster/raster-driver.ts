import { Nrom } from '../../src/console/cartridge/circuits/nrom.ts';
import { ReferenceRaster } from '../../src/console/raster/reference-raster.ts';
import { PictureHistory, type TargetRectangle } from '../../src/picture/picture.ts';
import type { TraceEvent } from '../../src/trace/trace.ts';
import { TIMINGS, type Timing, type TimingId } from '../../src/units/timing.ts';

export interface DriverSetup {
  timing?: TimingId;
  /** 8 KiB of pattern RAM by default, zeros. */
  pattern?: Uint8Array;
  mirroring?: 'horizontal' | 'vertical';
  startTick?: number;
  /** Asked at every vblank. */
  targets?: () => readonly TargetRectangle[];
}

/**
 * A raster unit with a scripted hand on its registers: no processor, accesses at whatever dot the script says.
 * Each access of `write` takes one processor cycle, so that a change started by one is over before the next.
 */
export class RasterDriver {
  readonly timing: Timing;
  readonly slot: Nrom;
  readonly history = new PictureHistory(4);
  readonly events: TraceEvent[] = [];
  readonly raster: ReferenceRaster;
  tick: number;

  constructor(setup: DriverSetup = {}) {
    this.timing = TIMINGS[setup.timing ?? '60hz'];
    const isRam = setup.pattern === undefined;
    this.slot = new Nrom({
      program: new Uint8Array(16384),
      pattern: setup.pattern ?? new Uint8Array(0),
      patternRamBytes: isRam ? 8192 : 0,
      workRamBytes: 0,
      mirroring: setup.mirroring ?? 'vertical',
    });
    this.tick = setup.startTick ?? 0;
    this.raster = new ReferenceRaster({
      timing: this.timing,
      slot: this.slot,
      history: this.history,
      trace: { put: (event) => this.events.push(event) },
      hooks: { targetsForNextPicture: setup.targets ?? (() => []) },
      startTick: this.tick,
    });
    this.raster.runTo(this.tick);
  }

  /** Tick of (0,0) of the frame in progress. */
  get frameTick(): number {
    return this.history.get(this.history.newest)!.lineZeroTick;
  }

  get codes(): Uint16Array {
    return this.history.get(this.history.newest)!.codes;
  }

  /** Go to this dot of the frame in progress; it has been carried out afterwards. */
  goTo(line: number, dot: number): this {
    const target = this.frameTick + (line * 341 + dot) * this.timing.dotDivider;
    if (target < this.tick) throw new Error(`(${line},${dot}) is past`);
    this.tick = target;
    this.raster.runTo(this.tick);
    return this;
  }

  goOn(dots: number): this {
    this.tick += dots * this.timing.dotDivider;
    this.raster.runTo(this.tick);
    return this;
  }

  /** Go to (0,0) of the next frame, wherever a short frame puts it. */
  goToNextFrame(): this {
    const frame = this.history.newest;
    const last = this.frameTick + (this.timing.preRenderLine * 341 + 300) * this.timing.dotDivider;
    if (this.tick < last) this.goTo(this.timing.preRenderLine, 300);
    while (this.history.newest === frame) this.goOn(1);
    return this;
  }

  /** Past the first pre-render line, so that all registers take writes; rendering is off. */
  warmUp(): this {
    return this.goToNextFrame();
  }

  write(register: number, ...values: number[]): this {
    for (const value of values) {
      this.raster.writeRegister(register, value, this.tick);
      this.goOn(4);
    }
    return this;
  }

  read(register: number): number {
    return this.raster.readRegister(register, this.tick);
  }

  /** Video memory from this address, through $2006 and $2007; rendering must be off. */
  fill(address: number, bytes: ArrayLike<number>): this {
    this.write(6, address >> 8, address & 0xff);
    for (let i = 0; i < bytes.length; i++) this.raster.writeRegister(7, bytes[i]!, this.tick);
    return this;
  }

  /** Sprite memory from its start; rendering must be off. */
  fillOam(bytes: ArrayLike<number>): this {
    this.raster.writeRegister(3, 0, this.tick);
    for (let i = 0; i < bytes.length; i++) this.raster.writeOam(bytes[i]!);
    return this;
  }

  ticksOf(kind: TraceEvent['kind']): number[] {
    return this.events.filter((event) => event.kind === kind).map((event) => event.tick);
  }
}
