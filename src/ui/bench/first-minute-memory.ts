/** How far somebody has come in the first minute. */
export interface FirstMinuteProgress {
  readonly isOpen: boolean;
  /** The verdicts of the steps that were taken, in the page's words. */
  readonly seen: readonly string[];
}

export const NOT_BEGUN: FirstMinuteProgress = { isOpen: true, seen: [] };

/** The part of the browser's storage that is used. */
export type Memory = Pick<Storage, 'getItem' | 'setItem'>;

const KEY = 'latelight.first-minute';
const VERSION = 1;
/** A verdict is a few plain words; anything else was not written by this page. */
const VERDICT = /^[a-z ]{1,24}$/;

/** What was remembered; nothing, or what nobody can read, is as if it had not begun. */
export function recalled(memory: () => Memory, steps: number): FirstMinuteProgress {
  try {
    const { version, isOpen, seen } = JSON.parse(memory().getItem(KEY) ?? '{}');
    const isRead = version === VERSION && typeof isOpen === 'boolean' && isVerdicts(seen) && seen.length <= steps;
    return isRead ? { isOpen, seen } : NOT_BEGUN;
  } catch {
    return NOT_BEGUN;
  }
}

const isVerdicts = (value: unknown): value is string[] =>
  Array.isArray(value) && value.every((verdict) => typeof verdict === 'string' && VERDICT.test(verdict));

/** Remember it for the next visit. A browser that keeps nothing, or is full, is no fault: this visit goes on. */
export function remember(memory: () => Memory, { isOpen, seen }: FirstMinuteProgress): void {
  try {
    memory().setItem(KEY, JSON.stringify({ version: VERSION, isOpen, seen }));
  } catch {
    // told to nobody: there is nothing that somebody could do about it, and nothing is lost that was typed
  }
}
