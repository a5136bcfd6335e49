import { type Timing, ticksToMs } from '../units/timing.ts';
import { isLitAt } from './light-bit.ts';
import type { ShotResult } from './shot-watch.ts';

/** An instant of a shot; `ms` after the trigger, null where the thing did not happen. */
export interface Instant {
  readonly name: string;
  readonly title: string;
  readonly ms: number | null;
}

/** The first read that saw the light of this flash: lit, at or after its crossing; null if none did. */
export const flashReadOf = ({ reads, flips, ticks: { crossing } }: ShotResult): number | null =>
  crossing === null ? null : (reads.find((tick) => tick >= crossing && isLitAt(flips, tick)) ?? null);

/** The instants of a shot as reports and pages list them, from flash to decision. */
export function instantsOf(result: ShotResult, timing: Timing): Instant[] {
  const { trigger, flashOnWire, lightAtSpot, crossing, firstLitRead, lastRead, decision } = result.ticks;
  const rows: readonly (readonly [name: string, title: string, tick: number | null])[] = [
    ['flashOnWire', 'flash leaves the console', flashOnWire],
    ['lightAtSpot', 'light at the spot', lightAtSpot],
    ['crossing', 'threshold crossed', crossing],
    ['firstLitRead', 'first read of any light', firstLitRead],
    ['flashRead', 'first read of this flash', flashReadOf(result)],
    ['lastRead', 'last read before it decided', lastRead],
    ['decision', 'decision', decision],
  ];
  return rows.map(([name, title, tick]) => ({
    name,
    title,
    ms: tick === null ? null : ticksToMs(timing, tick - trigger),
  }));
}
