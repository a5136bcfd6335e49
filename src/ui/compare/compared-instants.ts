import { INSTANT_TITLES } from '../../shot/instants.ts';
import type { ShotMark } from '../../workers/play.api.ts';

/** An instant of two shots, ms after each one's trigger; null: it did not come. */
export interface ComparedInstant {
  readonly title: string;
  readonly keptMs: number | null;
  readonly nowMs: number | null;
}

const ORDER: Readonly<Record<string, string>> = { trigger: 'trigger', ...INSTANT_TITLES };

/** The instants that came in either of two shots, from the trigger to the decision. */
export function comparedInstants(kept: readonly ShotMark[], now: readonly ShotMark[]): ComparedInstant[] {
  const at = (marks: readonly ShotMark[], name: string) => marks.find((mark) => mark.name === name)?.ms ?? null;
  return Object.entries(ORDER)
    .map(([name, title]) => ({ title, keptMs: at(kept, name), nowMs: at(now, name) }))
    .filter(({ keptMs, nowMs }) => keptMs !== null || nowMs !== null);
}

const DIGITS = 3;

/** How much later an instant came in the shot of now, in words; a dash where it came in one of the two only. */
export function differenceText({ keptMs, nowMs }: ComparedInstant): string {
  if (keptMs === null || nowMs === null) return '–';
  const size = Math.abs(nowMs - keptMs).toFixed(DIGITS);
  if (Number(size) === 0) return 'the same';
  return `${size} ${nowMs > keptMs ? 'later' : 'earlier'}`;
}
