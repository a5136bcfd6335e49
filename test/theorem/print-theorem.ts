import type { TimingId } from '../../src/units/timing.ts';
import { newTally, tryDelay } from './delay-trial.ts';
import { ALL_DELAYS, GRID_DELAYS, PATHS } from './light-paths.ts';
import { builtFiles } from './practice-street.ts';

/**
 * The theorem. Arguments: a light path's number and which delays it gets, "0:all", "1:grid" or "2:20" (every 20th of all); a
 * timing other than 60hz.
 */
const files = builtFiles('calibrated');
const words = process.argv.slice(2);
const timing = words.find((word) => !word.includes(':')) as TimingId | undefined;

function delaysOf(which: string, number: number): readonly number[] {
  if (which === 'all') return ALL_DELAYS;
  if (which === 'grid') return GRID_DELAYS;
  const every = Number(which);
  return ALL_DELAYS.filter((_, i) => i % every === number % every); // each path gets others
}

const tallies = words
  .filter((word) => word.includes(':'))
  .map((word) => {
    const [number, which] = word.split(':') as [string, string];
    const path = PATHS[Number(number)]!;
    const tally = newTally(path.name);
    for (const delayMs of delaysOf(which, Number(number))) tryDelay(files, path, delayMs, tally, timing);
    return tally;
  });
console.log(JSON.stringify(tallies));
