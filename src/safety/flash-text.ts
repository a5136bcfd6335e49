import type { FlashVerdict, WorstFlash } from './flash-analyser.ts';
import { FAILING_CHANGES, FLASH_PROFILES } from './flash-profile.ts';

/** Stands below every report. Own words; editions are those of the profiles. */
export const FLASH_DISCLAIMER =
  'This is an estimate against published thresholds, not a medical guarantee: some people react to less. It does not replace the analysis that a broadcaster or publisher asks for. Local rules and the advice of a physician come first.';

/** One line a kind: what was worst, where and when. */
export function verdictLines(verdict: FlashVerdict): string[] {
  const profile = FLASH_PROFILES.find(({ id }) => id === verdict.profile)!;
  return [
    `${verdict.passes ? 'below the limits' : 'ABOVE THE LIMITS'} of ${profile.id} (${profile.title}; ${profile.source})`,
    ...verdict.worst.filter(({ changes }) => changes > 0).map(worstLine),
  ];
}

function worstLine({ kind, counting, changes, frame, timeS, block, share }: WorstFlash): string {
  const where = `dots ${block.x} to ${block.x + block.width - 1}, lines ${block.y} to ${block.y + block.height - 1}`;
  const sign = changes >= FAILING_CHANGES ? '✕' : ' ';
  const way = counting === 'place' ? 'at one place' : 'over the field';
  return `${sign} ${kind}, ${way}: ${changes} opposing ${changes === 1 ? 'change' : 'changes'} within a second, the limit is ${FAILING_CHANGES - 1} (frame ${frame}, ${timeS.toFixed(3)} s; ${where}; ${Math.min(100, Math.round(share * 100))} % of the block)`;
}

/** What to change, most useful first; empty when nothing fails. */
export function flashAdvice(verdicts: readonly FlashVerdict[]): string[] {
  const isFailing = ({ changes }: WorstFlash): boolean => changes >= FAILING_CHANGES;
  const failing = verdicts.flatMap(({ worst }) => worst.filter(isFailing));
  if (failing.length === 0) return [];
  // A profile without a least area is not helped by smaller flashes.
  const isAreaCounted = verdicts.some(
    ({ profile, worst }) => worst.some(isFailing) && FLASH_PROFILES.find(({ id }) => id === profile)!.leastShare > 0,
  );
  const advice = [
    'Leave more time between shots: a black picture and a full flash over a scene of middling brightness need 30 frames at 60 Hz and 25 at 50 Hz.',
    'Darken the scene for a while before the first shot, or keep it dark: over a scene below a tenth of white the black picture makes no change.',
  ];
  if (isAreaCounted)
    advice.push(
      'Flash a box of at most 32 dots in place of the whole picture: it fills less than a quarter of the view at usual sizes.',
    );
  if (failing.some(({ kind }) => kind !== 'general')) advice.unshift('Use no saturated red in what flashes.');
  return advice;
}
