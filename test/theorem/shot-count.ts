import type { ScenarioFiles } from '../../src/shot/prepared-scenario.ts';
import type { ShotResult } from '../../src/shot/shot.ts';
import { CalibratedVisit, type StreetShot, type Visit } from './calibrated-visit.ts';

/** How many shots came to what; `refused`: calibrations that were. */
export interface ShotCount {
  readonly shots: number;
  readonly right: number;
  readonly wrong: number;
  readonly refused: number;
  readonly edge: number;
  readonly by: Readonly<Record<string, number>>;
}

/** Counts what it is given. */
class Counter {
  readonly #by: Record<string, number> = {};
  #shots = 0;

  add(judgement: string): void {
    this.#by[judgement] = (this.#by[judgement] ?? 0) + 1;
    if (judgement !== 'refused') this.#shots++;
  }

  get count(): ShotCount {
    const by = this.#by;
    const of = (judgement: string): number => by[judgement] ?? 0;
    const right = of('hit') + of('rightly none');
    const [edge, refused] = [of('edge'), of('refused')];
    return { shots: this.#shots, right, wrong: this.#shots - right - edge, refused, edge, by };
  }
}

/** Calibrate on each visit and shoot; `plans` may ask the visit where its moths are. */
export function countShots(
  visits: readonly Visit[],
  plans: (visit: CalibratedVisit, number: number) => readonly StreetShot[],
  look: (result: ShotResult, visit: Visit, plan: StreetShot) => void = () => {},
): ShotCount {
  const counter = new Counter();
  for (const [i, visit] of visits.entries()) {
    const calibrated = new CalibratedVisit(visit);
    if (!calibrated.isGood) {
      counter.add('refused');
      continue;
    }
    for (const plan of plans(calibrated, i)) {
      const result = calibrated.shoot(plan);
      counter.add(result.judgement);
      look(result, visit, plan);
    }
  }
  return counter.count;
}

/** Visits that differ in their delay. */
export const atDelays = (
  files: ScenarioFiles,
  delays: readonly number[],
  rest: Omit<Visit, 'files' | 'delayMs'>,
): Visit[] => delays.map((delayMs) => ({ files, delayMs, ...rest }));

/** From, to (both of them) in steps. */
export const range = (from: number, to: number, step: number): number[] =>
  Array.from({ length: Math.floor((to - from) / step + 1e-9) + 1 }, (_, i) => from + i * step);
