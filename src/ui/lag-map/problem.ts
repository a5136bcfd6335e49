import { LatelightError } from '../../errors/latelight-error.ts';
import type { Refusal } from '../../workers/refusal.ts';

/** What the catalogue says of lost workers is for a command. */
const LOST =
  'The page could not load its worker, or there was too little memory. See to the connection or close other pages, then run again: it goes on from what is known.';
/** An error that crosses a worker keeps its message only. */
const CROSSED = 'Change in the plan what is named, then run again.';

/** An error in words. */
export function problemOf(error: unknown): Refusal {
  if (error instanceof LatelightError)
    return { refused: error.message, hint: error.code === 'WORKER_LOST' ? LOST : error.hint };
  const { name, message } = error instanceof Error ? error : { name: '', message: String(error) };
  if (name === 'LatelightError') return { refused: message, hint: CROSSED };
  const internal = new LatelightError('INTERNAL', { what: message });
  return { refused: internal.message, hint: internal.hint };
}
