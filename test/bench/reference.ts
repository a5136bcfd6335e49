import { openScenario } from '../../src/cli/files.ts';
import { type Engine, runShot } from '../../src/shot/shot.ts';
import { ticksToMs } from '../../src/units/timing.ts';
import { type Figure, median } from './figure.ts';

const RUNS = 7;
const FOLDER = 'homebrew-demo/first-light';

/** Simulated time per wall time of whole shots from power-on on the reference engine, the slower of tube and LCD. */
export function referenceRealtime(): Figure {
  return { name: 'reference_realtime', value: slowerOf('reference'), unit: 'x', bound: 'min', goal: 4 };
}

/** The same on the fast engine: whole picture, light path, judging. */
export function loopRealtime(): Figure {
  return { name: 'loop_realtime', value: slowerOf('fast'), unit: 'x', bound: 'min', goal: 38 };
}

const slowerOf = (engine: Engine): number =>
  Math.min(...['tube.json', 'late-lcd.json'].map((file) => medianRatio(`${FOLDER}/${file}`, engine)));

/** Median of the ratios of several runs, after one warm-up. */
function medianRatio(path: string, engine: Engine): number {
  const { scenario, timing, ...rest } = openScenario(path);
  const prepared = { ...rest, timing, scenario: { ...scenario, deadlineFrames: 60 } };
  const ratios: number[] = [];
  for (let run = -1; run < RUNS; run++) {
    const start = performance.now();
    const result = runShot(prepared, 0, { engine });
    const wallMs = performance.now() - start;
    if (run >= 0) ratios.push(ticksToMs(timing, result.ticks.deadline) / wallMs);
  }
  return median(ratios);
}
