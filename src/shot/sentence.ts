import { type Timing, ticksToMs } from '../units/timing.ts';
import type { ShotResult } from './shot.ts';

/** One sentence with the numbers that matter for this shot. Not a cause: nothing was run again. */
export function sentenceOf(result: ShotResult, timing: Timing): string {
  const { flashOnWire, crossing, lastRead, decision } = result.ticks;
  const ms = (ticks: number): string => millisecondsText(ticksToMs(timing, ticks));
  if (flashOnWire === null) return noFlash(result);
  if (crossing === null) return 'Light from this flash did not cross the threshold before the deadline.';
  const arrival = `Light from this flash crossed the threshold ${ms(crossing - flashOnWire)} after its line left the console`;
  if (lastRead === null) return `${arrival}; the program did not read the port after the trigger.`;
  if (crossing <= lastRead) {
    const read = result.reads.find((tick) => tick >= crossing) ?? lastRead;
    return `${arrival}; the program read it ${ms(read - crossing)} later.`;
  }
  const last = lastRead - flashOnWire;
  const reading =
    last >= 0 ? `the program's last read was ${ms(last)} after` : `the program's last read was ${ms(-last)} before`;
  const when = decision === null ? '' : `: ${ms(crossing - lastRead)} too early`;
  return `${arrival}; ${reading}${when}.`;
}

/** Tenths are enough from 1 ms on; below it, microseconds. */
const millisecondsText = (ms: number): string =>
  Math.abs(ms) < 1 ? `${(ms * 1000).toFixed(1)} µs` : `${ms.toFixed(1)} ms`;

function noFlash(result: ShotResult): string {
  if (result.truth.kind === 'nothing')
    return 'No dot inside the spot became brighter after the trigger, as it should be when the aim is on nothing.';
  return 'No dot inside the spot became brighter after the trigger: the program flashed nothing where the gun was aimed.';
}
