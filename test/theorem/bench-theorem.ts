import type { TimingId } from '../../src/units/timing.ts';
import { newTally, type Tally, tableOf, tryDelay } from './delay-trial.ts';
import { modelFigures } from './figures.ts';
import { HANDS, type HandName, handRow, MARGINS } from './hand-table.ts';
import { ALL_DELAYS, PATHS, type TheoremPath } from './light-paths.ts';
import { builtFiles } from './practice-street.ts';

/**
 * `npm run bench:theorem`: every light path at every delay on every timing, then the figures of the rule's model, then the table
 * of margins and hands. Takes two hours; `npm run bench:theorem -- 20` takes every 20th of everything, some minutes.
 */
const EVERY = Number(process.argv[2] ?? 1);
const files = builtFiles('calibrated');

function tallyOf(path: TheoremPath, number: number, timing: TimingId, every: number): Tally {
  const tally = newTally(`${path.name}, ${timing}`);
  for (const delayMs of ALL_DELAYS.filter((_, i) => i % every === number % every))
    tryDelay(files, path, delayMs, tally, timing);
  console.log(tableOf([tally]));
  for (const failure of tally.failures) console.log(`  ${failure}`);
  return tally;
}

const tallies = (['60hz', '50hz', '50hz-clone'] as const).flatMap((timing) =>
  PATHS.map((path, number) => tallyOf(path, number, timing, EVERY)),
);
const shotsOf = (whole: number): number => Math.max(1, Math.ceil(whole / EVERY));
const visits = shotsOf(250);
for (const [name, { shots, wrong, refused, by }] of Object.entries(modelFigures(visits))) {
  console.log(`${name}: wrong ${wrong} of ${shots}, refused ${refused} of ${visits}, ${JSON.stringify(by)}`);
}
for (const margin of MARGINS) {
  for (const hand of Object.keys(HANDS) as HandName[]) {
    const { said, n } = handRow(margin, hand, shotsOf(200));
    const shares = said.map((count) => ((100 * count) / n).toFixed(1));
    console.log(`margin ${margin}, ${hand}: ${shares.join(' / ')} % of ${n}`);
  }
}
process.exitCode = tallies.every(({ wrong, refused }) => wrong + refused === 0) ? 0 : 1;
