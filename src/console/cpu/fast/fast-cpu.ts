import type { CpuState } from '../cpu-state.ts';
import { ReferenceCpu, type ReferenceCpuOptions } from '../reference-cpu.ts';
import { FastBus } from './fast-bus.ts';
import { runLoop } from './fast-cpu-loop.generated.ts';
import type { CpuEvents, FastCpuPorts } from './fast-cpu-ports.ts';
import { LoopSkipper } from './loop-skipper.ts';
import { PageTable } from './page-table.ts';
import type { SteadyPorts } from './steady-ports.ts';

const VECTOR_PAGE = 0xff;
/** Idle reads after which a jammed processor repeats one. */
const LAST_IDLE_READ = 3;

export interface FastCpuOptions extends ReferenceCpuOptions {
  /** Skip waiting loops. Not given: every round is run. */
  readonly steady?: SteadyPorts;
}

/**
 * The fast processor: equal to the reference in state, cycles and every access to a claimed page.
 *
 * A generated loop runs the instructions between events. What is rare or delicate is one step of the reference
 * processor on the same memory and pages: interrupts and the last instructions before one or before the limit, holds,
 * BRK, jams, SHA SHX SHY TAS, code in claimed pages, in the stack or across the end of a stretch of memory.
 *
 *     run:   | loop ................. | steps | loop .... | steps | loop ...... | steps |
 *                                      ^ NMI               ^ sprite DMA                ^ limit
 *
 * Memory is one array: pages 0 to 7 of it are the console's RAM, the owner lays out the rest and tells `pages`.
 * State: `save` and `load` between two runs; pages, memory and events belong to the owner.
 * Errors: `load` throws PARAM_RANGE. Checked against: the reference processor, open single-step vectors (test/console).
 */
export class FastCpu {
  readonly pages: PageTable;
  readonly events: CpuEvents;
  readonly #bus: FastBus;
  readonly #core: ReferenceCpu;
  readonly #skipper: LoopSkipper | undefined;

  constructor(memory: Uint8Array, ports: FastCpuPorts, options: FastCpuOptions = {}) {
    this.pages = new PageTable(memory.length);
    const { steady } = options;
    this.#skipper = steady && new LoopSkipper(memory, this.pages, steady);
    this.#bus = new FastBus(memory, this.pages, ports, steady && { skipper: this.#skipper!, ports: steady });
    this.#core = new ReferenceCpu(this.#bus, options);
    this.#bus.core = this.#core;
    this.events = this.#bus.events;
  }

  /** Start of the next instruction, in cycles from power-on. */
  get cycle(): number {
    return this.#bus.cycle;
  }

  get isJammed(): boolean {
    return this.#core.isJammed;
  }

  /** Opcode of the instruction in progress; see CpuState. */
  get opcodePc(): number {
    return this.#core.opcodePc;
  }

  /** Cycles of waiting loops that have not been run one by one; not part of the state. */
  get skippedCycles(): number {
    return this.#skipper?.skippedCycles ?? 0;
  }

  /**
   * Run whole instructions until the next one would start at or after `limitCycle`, or an access has set another limit, or
   * the one that has just ended has jammed the processor.
   */
  run(limitCycle: number): void {
    const bus = this.#bus;
    const { events } = bus;
    events.limitCycle = limitCycle;
    bus.beginRun();
    while (bus.cycle < events.limitCycle) {
      if (bus.beginLoop()) runLoop(bus);
      if (bus.cycle >= events.limitCycle) break;
      const { idleReads, isJammed } = this.#core;
      this.#core.step();
      if (this.#core.isJammed && !isJammed) return;
      if (this.#core.isJammed && idleReads === LAST_IDLE_READ) this.#skipIdleReads();
    }
  }

  /** The 7 cycles of a reset. */
  reset(): void {
    this.#bus.beginRun();
    this.#core.reset();
  }

  /** `nmiLine`: how the line stood in the latest cycle, true = asserted. */
  save(nmiLine: boolean): CpuState {
    return { ...this.#core.save(), nmiLine };
  }

  /** The owner sets `events.nmiCycle` to the next edge after the state's `nmiLine`. */
  load(state: CpuState, cycle: number): void {
    this.#core.load(state);
    this.#core.nmiLine = false;
    this.#bus.setClock(cycle);
  }

  /** Reads of one unclaimed byte over and over, until a line moves. */
  #skipIdleReads(): void {
    const core = this.#core;
    const bus = this.#bus;
    const { events } = bus;
    const isSteady = core.idleReads === LAST_IDLE_READ && core.polled === core.pending;
    if (!isSteady || this.pages.readBase[VECTOR_PAGE]! < 0) return;
    const irqCycle = events.irqCycle < bus.cycle ? Infinity : events.irqCycle;
    const end = Math.min(events.limitCycle, events.nmiCycle, irqCycle, events.holdCycle);
    if (end > bus.cycle && end < Infinity) bus.setClock(end);
  }
}
