import { createCircuit } from '../../src/console/cartridge/circuits/index.ts';
import type { Slot } from '../../src/console/cartridge/slot.ts';
import type { CpuBus } from '../../src/console/cpu/cpu-bus.ts';
import { ReferenceCpu } from '../../src/console/cpu/reference-cpu.ts';
import { FastRaster } from '../../src/console/raster/fast/fast-raster.ts';
import type { LineRange, PictureHistory, TargetRectangle } from '../../src/picture/picture.ts';
import { parseImage } from '../../src/program/image.ts';
import type { TraceEvent } from '../../src/trace/trace.ts';
import type { Timing } from '../../src/units/timing.ts';

interface LateConsoleSetup {
  readonly timing: Timing;
  readonly image: Uint8Array;
  readonly history: PictureHistory;
  readonly targets: (ram: Uint8Array) => readonly TargetRectangle[];
  readonly draws?: LineRange;
}

/**
 * RAM, program memory, registers and sprite DMA around the fast raster unit, which is asked only at accesses to its
 * registers and when the next event's tick has come. Ports are empty.
 */
export class LateConsole implements CpuBus {
  readonly ram = new Uint8Array(0x800);
  readonly events: TraceEvent[] = [];
  readonly raster: FastRaster;
  readonly cpu: ReferenceCpu;
  readonly #timing: Timing;
  readonly #slot: Slot;
  #cycle = 0;
  #dataBus = 0;
  #dmaPage = -1;

  constructor({ timing, image, history, targets, draws }: LateConsoleSetup) {
    this.#timing = timing;
    this.#slot = createCircuit(parseImage(image));
    this.raster = new FastRaster({
      timing,
      slot: this.#slot,
      history,
      trace: { put: (event) => this.events.push(event) },
      hooks: { targetsForNextPicture: () => targets(this.ram) },
      ...(draws === undefined ? {} : { draws }),
    });
    this.cpu = new ReferenceCpu(this);
    this.cpu.reset();
  }

  get tick(): number {
    return this.#cycle * this.#timing.cpuDivider;
  }

  runUntil(tick: number): void {
    while (this.tick < tick) this.cpu.step();
    // The last access may lie some cycles back.
    this.raster.runTo(this.tick - this.#timing.cpuDivider + (this.#timing.cpuDivider >> 1));
  }

  fetch(address: number): number {
    return this.read(address);
  }

  read(address: number): number {
    this.#waitForDma(address);
    return this.#readCycle(address);
  }

  write(address: number, value: number): void {
    this.#meetEvent(this.tick);
    this.#dataBus = value;
    if (address < 0x2000) this.ram[address & 0x7ff] = value;
    else if (address < 0x4000) this.raster.writeRegister(address & 7, value, this.tick);
    else if (address === 0x4014) this.#dmaPage = value;
    this.#endCycle();
  }

  served(): void {
    this.events.push({ kind: 'nmi-served', tick: this.tick });
  }

  #meetEvent(tick: number): void {
    if (tick >= this.raster.nextEventTick) this.raster.runTo(tick);
  }

  #readCycle(address: number): number {
    this.#meetEvent(this.tick);
    if (address < 0x2000) this.#dataBus = this.ram[address & 0x7ff]!;
    else if (address < 0x4000) this.#dataBus = this.raster.readRegister(address & 7, this.tick);
    else if (address >= 0x8000)
      this.#dataBus = this.#slot.program[this.#slot.pageOffset(address >> 8) + (address & 0xff)]!;
    this.#endCycle();
    return this.#dataBus;
  }

  #endCycle(): void {
    this.#meetEvent(this.tick + (this.#timing.cpuDivider >> 1));
    this.cpu.endCycle(this.raster.isNmiLineAsserted, false);
    this.#cycle++;
  }

  /** 513 cycles, or 514 when the first is a get cycle's; the unit's side is sent byte by byte. */
  #waitForDma(heldAddress: number): void {
    if (this.#dmaPage < 0) return;
    const page = this.#dmaPage;
    this.#dmaPage = -1;
    this.#readCycle(heldAddress);
    if (this.#cycle % 2 !== 0) this.#readCycle(heldAddress);
    for (let i = 0; i < 256; i++) {
      this.#readCycle((page << 8) | i);
      this.#meetEvent(this.tick);
      this.raster.runTo(this.tick);
      this.raster.writeOam(this.#dataBus);
      this.#endCycle();
    }
  }
}
