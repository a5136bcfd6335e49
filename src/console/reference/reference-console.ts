import type { TraceSink } from '../../trace/trace.ts';
import type { Timing } from '../../units/timing.ts';
import { checkAlignment } from '../alignment.ts';
import { createCircuit } from '../cartridge/circuits/index.ts';
import type { Slot } from '../cartridge/slot.ts';
import type { Console, ConsoleSetup, ConsoleState } from '../console.ts';
import type { CpuBus } from '../cpu/cpu-bus.ts';
import { ReferenceCpu } from '../cpu/reference-cpu.ts';
import { Ports } from '../ports.ts';
import { ReferenceRaster } from '../raster/reference-raster.ts';

const ASKED_FETCH = 1;
const ASKED_WRITE = 2;
const ASKED_READ = 4;
const NO_DMA = -1;

/**
 * The slow console: every bus access a call and a cycle, the raster dot by dot. It judges the fast one.
 *
 * One cycle: the raster catches up to the cycle's first tick, the access is carried out, the raster catches up to the
 * middle of the cycle, and the interrupt lines are sampled there (their phi2 sample).
 */
export class ReferenceConsole implements Console, CpuBus {
  readonly #timing: Timing;
  readonly #trace: TraceSink;
  readonly #slot: Slot;
  readonly #claims: Uint8Array;
  readonly #raster: ReferenceRaster;
  readonly #cpu: ReferenceCpu;
  readonly #ports: Ports;
  readonly #ram = new Uint8Array(0x800);
  /** One byte an address: which accesses the trace was asked to report. */
  readonly #asked = new Uint8Array(0x10000);
  readonly #phase: number;
  readonly #putParity: number;
  readonly #halfCycle: number;
  #cycle = 0;
  #tick: number;
  #dataBus = 0;
  #dmaPage = NO_DMA;

  constructor(setup: ConsoleSetup) {
    const { timing, alignment, trace } = setup;
    checkAlignment(timing, alignment.cpuPhaseTicks);
    this.#timing = timing;
    this.#trace = trace;
    this.#slot = createCircuit(setup.image);
    this.#claims = this.#slot.claims();
    this.#raster = new ReferenceRaster({
      timing,
      slot: this.#slot,
      history: setup.history,
      trace,
      startTick: 0,
      hooks: setup.hooks,
    });
    this.#cpu = new ReferenceCpu(this);
    this.#ports = new Ports(setup.devices, setup.surroundings);
    for (const address of setup.request.fetches) this.#asked[address]! |= ASKED_FETCH;
    for (const address of setup.request.writes) this.#asked[address]! |= ASKED_WRITE;
    for (const address of setup.request.reads) this.#asked[address]! |= ASKED_READ;
    this.#phase = alignment.cpuPhaseTicks;
    this.#putParity = alignment.putParity;
    this.#halfCycle = timing.cpuDivider >> 1;
    this.#tick = this.#phase;
    this.#cpu.reset();
  }

  get tick(): number {
    return this.#tick;
  }

  get isJammed(): boolean {
    return this.#cpu.isJammed;
  }

  runUntil(tick: number): void {
    while (this.#tick < tick) {
      const wasJammed = this.#cpu.isJammed;
      this.#cpu.step();
      if (this.#cpu.isJammed && !wasJammed) this.#reportJam();
    }
  }

  fetch(address: number): number {
    this.#waitForDma(address);
    this.#beginCycle();
    if ((this.#asked[address]! & ASKED_FETCH) !== 0) this.#trace.put({ kind: 'fetch', tick: this.#tick, address });
    const value = this.#readBus(address);
    this.#endCycle();
    return value;
  }

  read(address: number): number {
    this.#waitForDma(address);
    this.#beginCycle();
    const value = this.#readBus(address);
    if ((this.#asked[address]! & ASKED_READ) !== 0) this.#trace.put({ kind: 'read', tick: this.#tick, address, value });
    this.#endCycle();
    return value;
  }

  write(address: number, value: number): void {
    this.#beginCycle();
    if ((this.#asked[address]! & ASKED_WRITE) !== 0)
      this.#trace.put({ kind: 'write', tick: this.#tick, address, value });
    this.#writeBus(address, value);
    this.#endCycle();
  }

  served(kind: 'nmi' | 'irq'): void {
    this.#trace.put({ kind: kind === 'nmi' ? 'nmi-served' : 'irq-served', tick: this.#tick });
  }

  peek(address: number): number {
    if (address < 0x2000) return this.#ram[address & 0x7ff]!;
    return address >= 0x6000 ? this.#readCartridge(address, 0) : 0;
  }

  save(): ConsoleState {
    return {
      cycle: this.#cycle,
      dataBus: this.#dataBus,
      ram: this.#ram.slice(),
      dmaPage: this.#dmaPage,
      cpu: this.#cpu.save(),
      raster: this.#raster.save(),
      ports: this.#ports.save(),
      slot: this.#slot.save(),
    };
  }

  load(state: ConsoleState): void {
    this.#cycle = state.cycle;
    this.#tick = this.#phase + state.cycle * this.#timing.cpuDivider;
    this.#dataBus = state.dataBus;
    this.#ram.set(state.ram);
    this.#dmaPage = state.dmaPage;
    this.#cpu.load(state.cpu);
    this.#raster.load(state.raster);
    this.#ports.load(state.ports);
    this.#slot.load(state.slot);
  }

  #beginCycle(): void {
    this.#raster.runTo(this.#tick);
  }

  #endCycle(): void {
    this.#raster.runTo(this.#tick + this.#halfCycle);
    this.#cpu.endCycle(this.#raster.isNmiLineAsserted, this.#slot.irq(this.#cycle));
    this.#cycle++;
    this.#tick = this.#phase + this.#cycle * this.#timing.cpuDivider;
  }

  /**
   * Sprite DMA. The processor can only be held in a read cycle: one halt cycle, one more when the next is not a get
   * cycle, then 256 pairs of get and put. While it is held the processor repeats its read.
   * Source: hardware documentation wiki, "DMA": 513 cycles after a $4014 write in a get cycle, 514 after a put cycle.
   */
  #waitForDma(heldAddress: number): void {
    if (this.#dmaPage === NO_DMA) return;
    const start = this.#tick;
    const page = this.#dmaPage;
    this.#dmaPage = NO_DMA;
    this.#idleCycle(heldAddress);
    if (!this.#isGetCycle()) this.#idleCycle(heldAddress);
    for (let i = 0; i < 256; i++) {
      this.#beginCycle();
      const value = this.#readBus((page << 8) | i);
      this.#endCycle();
      this.#beginCycle();
      this.#dataBus = value;
      this.#raster.writeOam(value);
      this.#endCycle();
    }
    this.#trace.put({ kind: 'dma', tick: start, endTick: this.#tick, what: 'sprite' });
  }

  #idleCycle(heldAddress: number): void {
    this.#beginCycle();
    this.#readBus(heldAddress);
    this.#endCycle();
  }

  #isGetCycle(): boolean {
    return this.#cycle % 2 === this.#putParity;
  }

  #readBus(address: number): number {
    if (address < 0x2000) this.#dataBus = this.#ram[address & 0x7ff]!;
    else if (address < 0x4000) this.#dataBus = this.#raster.readRegister(address & 7, this.#tick);
    else if (address === 0x4016 || address === 0x4017) this.#dataBus = this.#readPort(address === 0x4016 ? 1 : 2);
    // The sound status does not drive the outside bus; its channels are not modelled and read as silent.
    else if (address === 0x4015) return this.#dataBus & 0x20;
    else if (address >= 0x4020) this.#dataBus = this.#readCartridge(address, this.#dataBus);
    return this.#dataBus;
  }

  #readPort(port: 1 | 2): number {
    // Bits 7..5 are not driven and keep the last byte on the bus.
    const value = (this.#dataBus & 0xe0) | this.#ports.read(port, this.#cycle, this.#tick);
    this.#trace.put({ kind: 'port-read', tick: this.#tick, port, value, pc: this.#cpu.opcodePc });
    return value;
  }

  #readCartridge(address: number, openBus: number): number {
    const page = address >> 8;
    if (this.#claims[page] === 1) return this.#slot.read(this.#cycle, address, openBus);
    const offset = this.#slot.pageOffset(page);
    if (offset < 0) return openBus;
    return (page < 0x80 ? this.#slot.work : this.#slot.program)[offset + (address & 0xff)]!;
  }

  #writeBus(address: number, value: number): void {
    this.#dataBus = value;
    if (address < 0x2000) this.#ram[address & 0x7ff] = value;
    else if (address < 0x4000) this.#raster.writeRegister(address & 7, value, this.#tick);
    else if (address === 0x4014) this.#dmaPage = value;
    else if (address === 0x4016) this.#ports.writeStrobe(value, this.#tick);
    else if (address >= 0x4020) this.#writeCartridge(address, value);
  }

  #writeCartridge(address: number, value: number): void {
    const page = address >> 8;
    if (this.#claims[page] === 1) {
      this.#slot.write(this.#cycle, address, value);
      return;
    }
    const offset = page < 0x80 ? this.#slot.pageOffset(page) : -1;
    if (offset >= 0) this.#slot.work[offset + (address & 0xff)] = value;
  }

  #reportJam(): void {
    const address = this.#cpu.opcodePc;
    this.#trace.put({ kind: 'jam', tick: this.#tick, address, opcode: this.peek(address) });
  }
}
