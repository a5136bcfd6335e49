import type { TimingId } from '../../src/units/timing.ts';
import type { Strategy } from '../lamplighter.ts';
import { playAtRandom } from './random-play.ts';

/** Random play of every case `strategy:timing:seconds:seed` of the command line; prints what was found as a JSON list. */
const found = process.argv.slice(2).map((argument) => {
  const [strategy, timing, seconds, seed] = argument.split(':');
  return playAtRandom(strategy as Strategy, timing as TimingId, Number(seconds), Number(seed));
});
console.log(JSON.stringify(found));
