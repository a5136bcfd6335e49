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

/** What instants are called, in the order in which they follow each other where light comes in time. */
export const INSTANT_TITLES = {
  flashOnWire: 'flash leaves the console',
  lightAtSpot: 'light at the spot',
  crossing: 'threshold crossed',
  firstLitRead: 'first read of any light',
  flashRead: 'first read of this flash',
  lastRead: 'last read before it decided',
  decision: 'decision',
} as const;

/** The instants of a shot as reports and pages list them, from flash to decision. */
export function instantsOf(result: ShotResult, timing: Timing): Instant[] {
  const { trigger } = result.ticks;
  const ticks = { ...result.ticks, flashRead: flashReadOf(result) };
  return (Object.keys(INSTANT_TITLES) as (keyof typeof INSTANT_TITLES)[]).map((name) => {
    const tick = ticks[name];
    return { name, title: INSTANT_TITLES[name], ms: tick === null ? null : ticksToMs(timing, tick - trigger) };
  });
}
