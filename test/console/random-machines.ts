import type { CpuBus } from '../../src/console/cpu/cpu-bus.ts';
import type { CpuState } from '../../src/console/cpu/cpu-state.ts';
import { FastCpu } from '../../src/console/cpu/fast/fast-cpu.ts';
import type { FastCpuPorts } from '../../src/console/cpu/fast/fast-cpu-ports.ts';
import type { SteadyPorts } from '../../src/console/cpu/fast/steady-ports.ts';
import { ReferenceCpu } from '../../src/console/cpu/reference-cpu.ts';
import type { RandomWorld } from './random-world.ts';

/** A processor in a random world, to be run to the same limits as another one in a copy of it. */
export interface Machine {
  readonly world: RandomWorld;
  readonly cycle: number;
  readonly isJammed: boolean;
  /** Whole instructions until the next would start in `limit` or later, or later than a limit that an access has set. */
  run(limit: number): void;
  save(): CpuState;
}

/** The reference processor; the world is asked for every cycle. */
export class ReferenceMachine implements Machine, CpuBus {
  readonly world: RandomWorld;
  cycle: number;
  instructions = 0;
  readonly #cpu = new ReferenceCpu(this);

  constructor(world: RandomWorld, state: Partial<CpuState>, cycle: number) {
    this.world = world;
    this.cycle = cycle;
    this.#cpu.load({ ...this.#cpu.save(), ...state });
  }

  get isJammed(): boolean {
    return this.#cpu.isJammed;
  }

  run(limit: number): void {
    this.world.limitCycle = limit;
    while (this.cycle < this.world.limitCycle) {
      this.instructions++;
      this.#cpu.step();
    }
  }

  save(): CpuState {
    return this.#cpu.save();
  }

  fetch(address: number): number {
    this.#waitForHold(address);
    if (this.world.watched[address >> 8] === 1) this.world.fetched(address, this.cycle);
    return this.#readBus(address);
  }

  read(address: number): number {
    this.#waitForHold(address);
    return this.#readBus(address);
  }

  write(address: number, value: number): void {
    const { world } = this;
    world.dataBus = value;
    const base = world.writeBase[address >> 8]!;
    if (base >= 0) world.memory[base + (address & 0xff)] = value;
    else world.write(address, value, this.cycle, this.#cpu.opcodePc);
    this.#endCycle();
  }

  served(kind: 'nmi' | 'irq'): void {
    this.world.served(kind, this.cycle);
  }

  #readBus(address: number): number {
    const { world } = this;
    const base = world.readBase[address >> 8]!;
    let value: number;
    if (base >= 0) value = world.dataBus = world.memory[base + (address & 0xff)]!;
    else value = world.read(address, this.cycle, this.#cpu.opcodePc);
    this.#endCycle();
    return value;
  }

  #waitForHold(address: number): void {
    const { world } = this;
    if (this.cycle < world.holdCycle) return;
    world.holdCycle = Infinity;
    for (let cycles = -1; cycles !== 0; ) {
      cycles = world.hold(address, this.cycle);
      for (let i = 0; i < cycles; i++) this.#endCycle();
    }
  }

  #endCycle(): void {
    this.#cpu.endCycle(this.world.nmiLineAt(this.cycle), this.world.irqLineAt(this.cycle));
    this.cycle++;
  }
}

/** The fast processor; the world tells ahead what it knows, but nothing of reads of claimed pages. */
export class FastMachine implements Machine, FastCpuPorts, SteadyPorts {
  readonly world: RandomWorld;
  readonly steadyUntil = 0;
  readonly #cpu: FastCpu;

  constructor(world: RandomWorld, state: Partial<CpuState>, cycle: number) {
    this.world = world;
    this.#cpu = new FastCpu(world.memory, this, { steady: this });
    for (let page = 0; page < 0x100; page++) {
      this.#mapPage(page);
      this.#cpu.pages.watchFetches(page, world.watched[page] === 1);
    }
    this.#cpu.load({ ...this.#cpu.save(false), ...state }, cycle);
  }

  get dataBus(): number {
    return this.world.dataBus;
  }

  set dataBus(value: number) {
    this.world.dataBus = value;
  }

  get cycle(): number {
    return this.#cpu.cycle;
  }

  get isJammed(): boolean {
    return this.#cpu.isJammed;
  }

  /** A run sees one edge of the NMI line. */
  run(limit: number): void {
    const { world } = this;
    const cpu = this.#cpu;
    world.limitCycle = limit;
    while (cpu.cycle < world.limitCycle) {
      world.nmiCycle = world.nextEdge(cpu.cycle, world.nmiLineAt(cpu.cycle - 1));
      this.#tellEvents();
      cpu.run(cpu.events.limitCycle);
    }
  }

  save(): CpuState {
    return this.#cpu.save(this.world.nmiLineAt(this.cycle - 1));
  }

  read(address: number, cycle: number): number {
    const value = this.world.read(address, cycle, this.#cpu.opcodePc);
    this.#tellEvents();
    return value;
  }

  write(address: number, value: number, cycle: number): void {
    this.world.write(address, value, cycle, this.#cpu.opcodePc);
    this.#tellEvents();
  }

  fetched(address: number, cycle: number): void {
    this.world.fetched(address, cycle);
  }

  hold(address: number, cycle: number): number {
    this.world.holdCycle = Infinity;
    const cycles = this.world.hold(address, cycle);
    this.#tellEvents();
    return cycles;
  }

  served(kind: 'nmi' | 'irq', cycle: number): void {
    this.world.served(kind, cycle);
  }

  get skippedCycles(): number {
    return this.#cpu.skippedCycles;
  }

  isFetchTold(): boolean {
    return true;
  }

  steadyRead(): number {
    return -1;
  }

  readSteadily(): void {
    throw new Error('no read was said to be steady');
  }

  #tellEvents(): void {
    const { world } = this;
    const { events } = this.#cpu;
    events.nmiCycle = world.nmiCycle;
    events.irqCycle = world.irqCycle;
    events.limitCycle = Math.min(world.limitCycle, world.nmiCycle + 1);
    events.holdCycle = world.holdCycle;
    if (world.remappedPage >= 0) {
      this.#mapPage(world.remappedPage);
      world.remappedPage = -1;
    }
  }

  #mapPage(page: number): void {
    this.#cpu.pages.map(page, this.world.readBase[page]!, this.world.writeBase[page]!);
  }
}
