import type { CpuBus } from './cpu-bus.ts';
import { CpuCore } from './cpu-core.ts';
import { type CpuState, loadState, saveState } from './cpu-state.ts';
import { INSTRUCTIONS } from './instructions.ts';
import { idle, interruptSequence, resetSequence } from './sequences.ts';

export type { CpuState };

export interface ReferenceCpuOptions {
  /** How SHA, SHX, SHY and TAS behave; see unstable-stores.ts. Default: `hardware`. */
  readonly unstableStores?: 'hardware' | 'vectors';
}

/**
 * The slow, obvious processor that judges the fast one: 6502 core without decimal adder, one bus access a cycle.
 *
 * Protocol: each access is a call of the bus; the bus calls `endCycle` before that call returns. Power-on is `new`, then
 * `reset()`. Error: `load` throws PARAM_RANGE. State: `save()` and `load()` between two steps.
 * Checked against: open single-step vectors and an outside cycle counter (test/console).
 */
export class ReferenceCpu extends CpuCore {
  constructor(bus: CpuBus, options: ReferenceCpuOptions = {}) {
    super(bus, options.unstableStores === 'vectors');
  }

  /** One whole instruction, or one interrupt sequence, or one cycle of a jammed processor. */
  step(): void {
    if (this.isJammed) idle(this);
    else if (this.polled !== 0) interruptSequence(this);
    else INSTRUCTIONS[this.fetchOpcode()](this);
  }

  /** The 7 cycles of a reset. */
  reset(): void {
    resetSequence(this);
  }

  save(): CpuState {
    return saveState(this);
  }

  load(state: CpuState): void {
    loadState(this, state);
  }
}
