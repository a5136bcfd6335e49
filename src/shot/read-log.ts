import type { PortReads } from '../trace/trace.ts';

interface ReadRun {
  readonly tick: number;
  readonly step: number;
  readonly count: number;
  readonly pc: number;
}

/** Runs kept at most, 2 MB; a loop that reads in one place makes one of them. What comes after them is not kept. Our choice. */
const MOST_RUNS = 0x8000;

/** Reads of the sensor's port with the place in the code, as runs of equal steps. */
export class ReadLog {
  #runs: ReadRun[] = [];

  add({ tick, step, count, pc }: Pick<PortReads, 'tick' | 'step' | 'count' | 'pc'>): void {
    const last = this.#runs[this.#runs.length - 1];
    const joined = last && joinedRun(last, { tick, step, count, pc });
    if (joined !== undefined) this.#runs[this.#runs.length - 1] = joined;
    else if (this.#runs.length < MOST_RUNS) this.#runs.push({ tick, step, count, pc });
  }

  clear(): void {
    this.#runs = [];
  }

  /** Every read, in the order of time. */
  all(): { readonly ticks: Float64Array; readonly pcs: Uint16Array } {
    const total = this.#runs.reduce((sum, { count }) => sum + count, 0);
    const [ticks, pcs] = [new Float64Array(total), new Uint16Array(total)];
    let at = 0;
    for (const { tick, step, count, pc } of this.#runs) {
      for (let k = 0; k < count; k++) {
        ticks[at] = tick + k * step;
        pcs[at++] = pc;
      }
    }
    return { ticks, pcs };
  }
}

/** Both as one run, if they are one. */
function joinedRun(last: ReadRun, next: ReadRun): ReadRun | undefined {
  if (last.pc !== next.pc) return undefined;
  const step = last.count > 1 ? last.step : next.tick - last.tick;
  if (next.count > 1 && next.step !== step) return undefined;
  return next.tick === last.tick + last.count * step ? { ...last, step, count: last.count + next.count } : undefined;
}
