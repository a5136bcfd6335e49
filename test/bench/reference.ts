import { openScenario } from '../../src/cli/files.ts';
import { runShot } from '../../src/shot/shot.ts';
import { ticksToMs } from '../../src/units/timing.ts';
import { type Figure, median } from './figure.ts';

const RUNS = 7;
const FOLDER = 'homebrew-demo/first-light';

/** Simulated time per wall time of whole shots from power-on, the slower of tube and LCD; median after one warm-up. */
export function referenceRealtime(): Figure {
  const value = Math.min(...['tube.json', 'late-lcd.json'].map((file) => medianRatio(`${FOLDER}/${file}`)));
  return { name: 'reference_realtime', value, unit: 'x', bound: 'min', goal: 4 };
}

function medianRatio(path: string): number {
  const { scenario, timing, ...rest } = openScenario(path);
  const prepared = { ...rest, timing, scenario: { ...scenario, deadlineFrames: 60 } };
  const ratios: number[] = [];
  for (let run = -1; run < RUNS; run++) {
    const start = performance.now();
    const result = runShot(prepared, 0);
    const wallMs = performance.now() - start;
    if (run >= 0) ratios.push(ticksToMs(timing, result.ticks.deadline) / wallMs);
  }
  return median(ratios);
}
