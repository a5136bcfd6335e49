import type { TimingId } from '../../src/units/timing.ts';
import { newTally, tryDelay } from './delay-trial.ts';
import { ALL_DELAYS, GRID_DELAYS, PATHS } from './light-paths.ts';
import { builtFiles } from './practice-street.ts';

/**
 * The theorem. Arguments: a light path's number and which delays it gets, "0:all", "1:grid" or "2:20" (every 20th of all); they
 * are for the timing named before them, 60hz at first.
 */
const files = builtFiles('calibrated');

function delaysOf(which: string, number: number): readonly number[] {
  if (which === 'all') return ALL_DELAYS;
  if (which === 'grid') return GRID_DELAYS;
  const every = Number(which);
  return ALL_DELAYS.filter((_, i) => i % every === number % every); // each path gets others
}

let timing: TimingId = '60hz';
const tallies = process.argv.slice(2).flatMap((word) => {
  if (!word.includes(':')) {
    timing = word as TimingId;
    return [];
  }
  const [number, which] = word.split(':') as [string, string];
  const path = PATHS[Number(number)]!;
  const tally = newTally(`${path.name}, ${timing}`);
  for (const delayMs of delaysOf(which, Number(number))) tryDelay(files, path, delayMs, tally, timing);
  return [tally];
});
console.log(JSON.stringify(tallies));
