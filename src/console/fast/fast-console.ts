import type { PictureDrawer } from '../../picture/picture.ts';
import { putEach, type TraceSink } from '../../trace/trace.ts';
import { checkAlignment } from '../alignment.ts';
import { createCircuit } from '../cartridge/circuits/index.ts';
import type { Slot } from '../cartridge/slot.ts';
import type { Console, ConsoleSetup, ConsoleState } from '../console.ts';
import { FastCpu } from '../cpu/fast/fast-cpu.ts';
import type { FastCpuPorts } from '../cpu/fast/fast-cpu-ports.ts';
import type { SteadyPorts } from '../cpu/fast/steady-ports.ts';
import { Ports } from '../ports.ts';
import { FastRaster } from '../raster/fast/fast-raster.ts';

const ASKED_FETCH = 1;
const ASKED_WRITE = 2;
const ASKED_READ = 4;
const NO_DMA = -1;
const PAGE_BYTES = 0x100;
const RAM_BYTES = 0x800;
const LAST_RAM_PAGE = 0x1f;
/** No instruction is longer, and no interrupt sequence. */
const LONGEST_INSTRUCTION = 8;
/** A halt cycle, an alignment cycle and 256 pairs. */
const LONGEST_DMA = 514;
const PPUSTATUS = 0x2002;
/** Cycles before a change of the flags in which each read of them is carried out. */
const STATUS_MARGIN = 2;
const NOT_STEADY = -1;

/**
 * The fast console: the same machine as the reference, event by event.
 *
 * The processor runs in its own loop over one memory array; only registers, ports and asked addresses call out. The
 * raster unit is told ticks and works when something could see it. The one event in mid-instruction that others look at is
 * the vblank dot, where probes read memory: the instructions across it run with every write to RAM calling out.
 */
export class FastConsole implements Console, FastCpuPorts, SteadyPorts, PictureDrawer {
  dataBus = 0;
  steadyUntil = 0;
  readonly #trace: TraceSink;
  readonly #slot: Slot;
  readonly #claims: Uint8Array;
  readonly #memory: Uint8Array;
  readonly #workStart: number;
  readonly #programStart: number;
  readonly #sparePage: number;
  readonly #raster: FastRaster;
  readonly #cpu: FastCpu;
  readonly #ports: Ports;
  readonly #asked = new Uint8Array(0x10000);
  /** What was asked anywhere in each page. */
  readonly #askedPages = new Uint8Array(0x100);
  readonly #phase: number;
  readonly #putParity: number;
  readonly #halfCycle: number;
  readonly #division: number;
  /** The opcode fetch of an asked or watched page is under way: its read is no data read. */
  #isFetching = false;
  #dmaPage = NO_DMA;
  /** Progress of a DMA that goes cycle by cycle: cycles done, and the byte between get and put. */
  #dmaCycles = 0;
  #dmaByte = 0;
  #dmaPutsDone = 0;
  #dmaStart = 0;

  constructor(setup: ConsoleSetup) {
    const { timing, alignment, trace, history } = setup;
    checkAlignment(timing, alignment.cpuPhaseTicks);
    this.#trace = trace;
    this.#slot = createCircuit(setup.image);
    this.#claims = this.#slot.claims();
    this.#phase = alignment.cpuPhaseTicks;
    this.#putParity = alignment.putParity;
    this.#division = timing.cpuDivider;
    this.#halfCycle = timing.cpuDivider >> 1;
    this.#workStart = RAM_BYTES;
    this.#programStart = this.#workStart + this.#slot.work.length;
    this.#sparePage = this.#programStart + this.#slot.program.length;
    this.#memory = new Uint8Array(this.#sparePage + PAGE_BYTES);
    this.#memory.set(this.#slot.program, this.#programStart);
    const draws = setup.draws === undefined ? {} : { draws: setup.draws };
    this.#raster = new FastRaster({
      timing,
      slot: this.#slot,
      history,
      trace,
      startTick: 0,
      hooks: setup.hooks,
      ...draws,
    });
    history.drawer = this;
    this.#ports = new Ports(setup.devices, setup.surroundings);
    this.#cpu = new FastCpu(this.#memory, this, setup.skipsLoops === false ? {} : { steady: this });
    this.#ask(setup);
    this.#mapPages();
    this.#aimAtNmi();
    this.#cpu.reset();
    this.#settleRaster();
  }

  get tick(): number {
    return this.#tickOf(this.#cpu.cycle);
  }

  get isJammed(): boolean {
    return this.#cpu.isJammed;
  }

  /** Processor cycles of waiting loops that were skipped since this object was made; not part of the state. */
  get skippedCycles(): number {
    return this.#cpu.skippedCycles;
  }

  runUntil(tick: number): void {
    const target = this.#cycleFrom(tick);
    while (this.#cpu.cycle < target) {
      const vblankCycle = this.#cycleFrom(this.#raster.nextVblankTick());
      const room = LONGEST_INSTRUCTION + (this.#dmaPage === NO_DMA ? 0 : LONGEST_DMA);
      if (this.#cpu.cycle + room > vblankCycle) this.#runAcrossVblank();
      else this.#run(Math.min(target, vblankCycle - LONGEST_INSTRUCTION + 1));
    }
  }

  /** One instruction with every write to RAM calling out, so that a probe at the vblank dot sees memory as of that tick. */
  #runAcrossVblank(): void {
    this.#cpu.pages.claimWrites(LAST_RAM_PAGE);
    this.#run(this.#cpu.cycle + 1);
    this.#cpu.pages.releaseWrites();
  }

  #run(limitCycle: number): void {
    const wasJammed = this.#cpu.isJammed;
    this.#aimAtNmi();
    this.#cpu.run(limitCycle);
    this.#settleRaster();
    if (this.#cpu.isJammed && !wasJammed) this.#reportJam();
  }

  /** The raster unit up to the sample of the latest cycle, as after each cycle of the reference. */
  #settleRaster(): void {
    this.#raster.runTo(this.#tickOf(this.#cpu.cycle - 1) + this.#halfCycle);
  }

  drawDue(): void {
    this.#raster.catchUpTo(Number.NEGATIVE_INFINITY);
  }

  // What the processor calls

  read(address: number, cycle: number): number {
    const tick = this.#tickOf(cycle);
    const isFetch = this.#isFetching;
    this.#isFetching = false;
    const value = this.#readBus(address, cycle, tick);
    if (!isFetch && (this.#asked[address]! & ASKED_READ) !== 0) {
      this.#raster.runTo(tick);
      this.#trace.put({ kind: 'read', tick, address, value });
    }
    return value;
  }

  write(address: number, value: number, cycle: number): void {
    const tick = this.#tickOf(cycle);
    this.#raster.runTo(tick);
    if ((this.#asked[address]! & ASKED_WRITE) !== 0) this.#trace.put({ kind: 'write', tick, address, value });
    this.#writeBus(address, value, cycle, tick);
  }

  fetched(address: number, cycle: number): void {
    this.#isFetching = this.#cpu.pages.readBase[address >> 8]! < 0;
    if ((this.#asked[address]! & ASKED_FETCH) === 0) return;
    const tick = this.#tickOf(cycle);
    this.#raster.runTo(tick);
    this.#trace.put({ kind: 'fetch', tick, address });
  }

  // Reads of waiting loops

  isFetchTold(address: number): boolean {
    return (this.#asked[address]! & ASKED_FETCH) !== 0;
  }

  steadyRead(address: number, dataBus: number, cycle: number): number {
    if ((this.#asked[address]! & ASKED_READ) !== 0) return NOT_STEADY;
    const tick = this.#tickOf(cycle);
    if ((address & 0xe007) === PPUSTATUS) return this.#steadyStatus(tick);
    if (address !== 0x4016 && address !== 0x4017) return NOT_STEADY;
    const port = address === 0x4016 ? 1 : 2;
    this.#raster.runTo(tick);
    // The end of a frame is an event that stands between reads.
    const until = Math.min(this.#ports.steadyUntil(port, tick), this.#raster.nextEventTick);
    if (until <= tick) return NOT_STEADY;
    this.steadyUntil = this.#cycleFrom(until);
    return (dataBus & 0xe0) | this.#ports.peekSteady(port, cycle, tick);
  }

  /** The reads next to a change of the flags are left to the processor: one that is a dot too early hides the vblank. */
  #steadyStatus(tick: number): number {
    this.#raster.runTo(tick);
    const value = this.#raster.steadyStatus();
    this.steadyUntil = this.#cycleFrom(this.#raster.statusConstantUntil()) - STATUS_MARGIN;
    return value;
  }

  readSteadily(address: number, value: number, cycle: number, step: number, count: number): void {
    const lastCycle = cycle + (count - 1) * step;
    const tick = this.#tickOf(lastCycle);
    this.dataBus = value;
    if (address < 0x4000) {
      this.#readRaster(address & 7, lastCycle, tick);
      return;
    }
    const port = address === 0x4016 ? 1 : 2;
    this.#ports.endSteadyReads(port, lastCycle, tick);
    this.#raster.runTo(tick);
    const { opcodePc: pc } = this.#cpu;
    const reads = { tick: this.#tickOf(cycle), step: step * this.#division, count, port, value, pc } as const;
    if (this.#trace.putPortReads === undefined) putEach(reads, this.#trace);
    else this.#trace.putPortReads(reads);
  }

  served(kind: 'nmi' | 'irq', cycle: number): void {
    this.#raster.runTo(this.#tickOf(cycle - 1) + this.#halfCycle);
    this.#trace.put({ kind: kind === 'nmi' ? 'nmi-served' : 'irq-served', tick: this.#tickOf(cycle) });
  }

  /** Sprite DMA; see the reference console for its cycles. */
  hold(address: number, cycle: number): number {
    if (this.#dmaPage === NO_DMA) return 0;
    const source = this.#cpu.pages.readBase[this.#dmaPage]!;
    if (source < 0 || this.#cpu.pages.readBase[address >> 8]! < 0 || this.#dmaCycles > 0)
      return this.#holdOneCycle(address, cycle);
    const idle = this.#isGetCycle(cycle + 1) ? 1 : 2;
    const firstPut = cycle + idle + 1;
    this.#raster.writeOamPage(this.#memory, source, this.#tickOf(firstPut), 2 * this.#division);
    this.dataBus = this.#memory[source + PAGE_BYTES - 1]!;
    this.#endDma(this.#tickOf(cycle), cycle + idle + 2 * PAGE_BYTES);
    return idle + 2 * PAGE_BYTES;
  }

  /** A DMA from registers, or one that holds the read of one: every cycle may have an effect. */
  #holdOneCycle(address: number, cycle: number): number {
    const tick = this.#tickOf(cycle);
    if (this.#dmaCycles === 0) this.#dmaStart = tick;
    const isIdle = this.#dmaPutsDone === 0 && this.#dmaByte === 0 && !this.#hasStarted(cycle);
    if (isIdle) this.#readBus(address, cycle, tick);
    else if (this.#isGetCycle(cycle))
      this.#dmaByte = this.#readBus((this.#dmaPage << 8) | this.#dmaPutsDone, cycle, tick);
    else this.#put(tick);
    this.#dmaCycles++;
    if (this.#dmaPutsDone === PAGE_BYTES) this.#endDma(this.#dmaStart, cycle + 1);
    return 1;
  }

  /** After the halt cycle, transfers begin with the first get cycle. */
  #hasStarted(cycle: number): boolean {
    return this.#dmaCycles > 1 || (this.#dmaCycles === 1 && this.#isGetCycle(cycle));
  }

  #put(tick: number): void {
    this.#raster.runTo(tick);
    this.dataBus = this.#dmaByte;
    this.#raster.writeOam(this.#dmaByte);
    this.#dmaPutsDone++;
  }

  #endDma(startTick: number, endCycle: number): void {
    this.#dmaPage = NO_DMA;
    this.#dmaCycles = 0;
    this.#dmaPutsDone = 0;
    this.#dmaByte = 0;
    this.#raster.runTo(this.#tickOf(endCycle - 1) + this.#halfCycle);
    this.#trace.put({ kind: 'dma', tick: startTick, endTick: this.#tickOf(endCycle), what: 'sprite' });
  }

  #isGetCycle(cycle: number): boolean {
    return cycle % 2 === this.#putParity;
  }

  // Bus

  #readBus(address: number, cycle: number, tick: number): number {
    const base = this.#cpu.pages.readBase[address >> 8]!;
    if (base >= 0) this.dataBus = this.#memory[base + (address & 0xff)]!;
    else if (address < 0x2000) this.dataBus = this.#memory[address & 0x7ff]!;
    else if (address < 0x4000) this.dataBus = this.#readRaster(address & 7, cycle, tick);
    else if (address === 0x4016 || address === 0x4017)
      this.dataBus = this.#readPort(address === 0x4016 ? 1 : 2, cycle, tick);
    else if (address === 0x4015) return this.dataBus & 0x20;
    else if (address >= 0x4020) this.dataBus = this.#readCartridge(address, cycle, this.dataBus);
    return this.dataBus;
  }

  #readRaster(register: number, cycle: number, tick: number): number {
    this.#raster.runTo(tick);
    const wasUp = this.#raster.isNmiLineAsserted;
    const value = this.#raster.readRegister(register, tick);
    if (register === 2) this.#followNmiLine(wasUp, cycle);
    return value;
  }

  #readPort(port: 1 | 2, cycle: number, tick: number): number {
    this.#raster.runTo(tick);
    const value = (this.dataBus & 0xe0) | this.#ports.read(port, cycle, tick);
    this.#trace.put({ kind: 'port-read', tick, port, value, pc: this.#cpu.opcodePc });
    return value;
  }

  #readCartridge(address: number, cycle: number, openBus: number): number {
    const page = address >> 8;
    if (this.#claims[page] === 1) return this.#slot.read(cycle, address, openBus);
    const place = this.#placeOfPage(page);
    return place < 0 ? openBus : this.#memory[place + (address & 0xff)]!;
  }

  #writeBus(address: number, value: number, cycle: number, tick: number): void {
    this.dataBus = value;
    if (address < 0x2000) this.#memory[address & 0x7ff] = value;
    else if (address < 0x4000) this.#writeRaster(address & 7, value, cycle, tick);
    else if (address === 0x4014) this.#askForDma(value, cycle);
    else if (address === 0x4016) this.#ports.writeStrobe(value, tick);
    else if (address >= 0x4020) this.#writeCartridge(address, value, cycle, tick);
  }

  #writeRaster(register: number, value: number, cycle: number, tick: number): void {
    const wasUp = this.#raster.isNmiLineAsserted;
    this.#raster.writeRegister(register, value, tick);
    if (register <= 1) this.#followNmiLine(wasUp, cycle);
  }

  /** The transfer halts the next read; the run ends with this instruction, so that the next vblank is looked at anew. */
  #askForDma(page: number, cycle: number): void {
    this.#dmaPage = page;
    this.#cpu.events.holdCycle = cycle + 1;
    this.#cpu.events.limitCycle = Math.min(this.#cpu.events.limitCycle, cycle + 1);
  }

  #writeCartridge(address: number, value: number, cycle: number, tick: number): void {
    const page = address >> 8;
    if (this.#claims[page] === 1) {
      this.#raster.beforeSlotChange(tick);
      this.#slot.write(cycle, address, value);
      this.#mapCartridge();
      return;
    }
    const place = page < 0x80 ? this.#placeOfPage(page) : -1;
    if (place >= 0) this.#memory[place + (address & 0xff)] = value;
  }

  // NMI

  /** After an access in this cycle: an edge that it made is seen by this cycle's sample; one that it undid is not. */
  #followNmiLine(wasUp: boolean, cycle: number): void {
    const isUp = this.#raster.isNmiLineAsserted;
    if (!isUp) this.#aimAtNmi();
    else if (!wasUp) this.#cpu.events.nmiCycle = cycle;
    // The next vblank may have moved: a short frame is decided by the rendering bits.
    else if (this.#cpu.events.nmiCycle > cycle) this.#aimAtNmi();
  }

  #aimAtNmi(): void {
    this.#cpu.events.nmiCycle = this.#cycleThatSees(this.#raster.nextNmiTick());
  }

  /** First cycle whose sample in mid-cycle is at or after the tick. */
  #cycleThatSees(tick: number): number {
    return tick === Infinity ? Infinity : Math.ceil((tick - this.#halfCycle - this.#phase) / this.#division);
  }

  #tickOf(cycle: number): number {
    return this.#phase + cycle * this.#division;
  }

  /** First cycle that starts at or after the tick. */
  #cycleFrom(tick: number): number {
    return Math.ceil((tick - this.#phase) / this.#division);
  }

  // Memory

  /** Place in memory of a cartridge page that the circuit does not answer itself; -1 = open bus. */
  #placeOfPage(page: number): number {
    const offset = page < 0x60 ? -1 : this.#slot.pageOffset(page);
    if (offset < 0) return -1;
    return (page < 0x80 ? this.#workStart : this.#programStart) + offset;
  }

  #mapPages(): void {
    this.#mapRam();
    for (let page = LAST_RAM_PAGE + 1; page < 0x60; page++) this.#cpu.pages.map(page, -1, -1);
    this.#mapCartridge();
  }

  #mapRam(): void {
    for (let page = 0; page <= LAST_RAM_PAGE; page++)
      this.#mapPlain(page, (page & 7) * PAGE_BYTES, (page & 7) * PAGE_BYTES);
  }

  #mapCartridge(): void {
    for (let page = 0x60; page < 0x100; page++) {
      const place = this.#claims[page] === 1 ? -1 : this.#placeOfPage(page);
      if (place < 0) this.#cpu.pages.map(page, -1, -1);
      else this.#mapPlain(page, place, page < 0x80 ? place : this.#sparePage);
    }
  }

  /** A page of plain memory, but for the accesses that somebody asked to be told of. */
  #mapPlain(page: number, readOffset: number, writeOffset: number): void {
    const asked = this.#askedPages[page]!;
    this.#cpu.pages.map(
      page,
      (asked & ASKED_READ) !== 0 ? -1 : readOffset,
      (asked & ASKED_WRITE) !== 0 ? -1 : writeOffset,
    );
  }

  #ask({ request }: ConsoleSetup): void {
    for (const address of request.fetches) this.#asked[address]! |= ASKED_FETCH;
    for (const address of request.writes) this.#asked[address]! |= ASKED_WRITE;
    for (const address of request.reads) this.#asked[address]! |= ASKED_READ;
    for (let address = 0; address < 0x10000; address++) this.#askedPages[address >> 8]! |= this.#asked[address]!;
    for (let page = 0; page < 0x100; page++) {
      if ((this.#askedPages[page]! & (ASKED_FETCH | ASKED_READ)) !== 0) this.#cpu.pages.watchFetches(page, true);
    }
  }

  peek(address: number): number {
    if (address < 0x2000) return this.#memory[address & 0x7ff]!;
    return address >= 0x6000 ? this.#readCartridge(address, this.#cpu.cycle, 0) : 0;
  }

  save(): ConsoleState {
    this.#slot.work.set(this.#memory.subarray(this.#workStart, this.#programStart));
    return {
      cycle: this.#cpu.cycle,
      dataBus: this.dataBus,
      ram: this.#memory.slice(0, RAM_BYTES),
      dmaPage: this.#dmaPage,
      cpu: this.#cpu.save(this.#raster.isNmiLineAsserted),
      raster: this.#raster.save(),
      ports: this.#ports.save(),
      slot: this.#slot.save(),
    };
  }

  load(state: ConsoleState): void {
    this.#slot.load(state.slot);
    this.#memory.set(state.ram);
    this.#memory.set(this.#slot.work, this.#workStart);
    this.#raster.load(state.raster);
    this.#ports.load(state.ports);
    this.#cpu.load(state.cpu, state.cycle);
    this.dataBus = state.dataBus;
    this.#dmaPage = state.dmaPage;
    this.#cpu.events.holdCycle = state.dmaPage === NO_DMA ? Infinity : state.cycle;
    this.#mapPages();
    this.#aimAtNmi();
  }

  #reportJam(): void {
    const address = this.#cpu.opcodePc;
    this.#trace.put({ kind: 'jam', tick: this.tick, address, opcode: this.peek(address) });
  }
}
