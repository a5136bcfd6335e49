/**
 * Notes in comments that promise an exact number of cycles; other assemblers see a comment only.
 *
 *         ; exactly 14 cycles from here
 * look:   lda GUN
 *         and #LIGHT
 *         beq lit
 *         lda frameDone
 *         beq look
 *         ; to here
 *
 * The number may be any constant expression: `; exactly SHOW_CYCLES - 12 cycles from here`. Where one number cannot be
 * promised, two can: `; 700 to 701 cycles from here`. Behind a statement a note counts that statement in.
 */
export type CycleNote =
  | { readonly kind: 'open'; readonly low: TextRange; readonly high: TextRange }
  | { readonly kind: 'close' }
  /** Looks like a note, but is none. */
  | { readonly kind: 'misspelt' };

/** Characters of a line, columns from 0. */
export interface TextRange {
  readonly column: number;
  readonly length: number;
}

const EXACT = /^(\s*exactly\s+)(\S.*?)\s+cycles?\s+from\s+here\b/i;
const RANGE = /^(\s*)(\S.*?)(\s+to\s+)(\S.*?)\s+cycles?\s+from\s+here\b/i;
const CLOSE = /^\s*to\s+here\s*$/i;
const MISSPELT = /^\s*(exactly\b.*\bcycles?\s*$|.*\bcycles?\s+from\s+here\b|to\s+here\s*[.!:,;]\s*$)/i;

/** Characters of a note: what follows would take the square of a longer text's length. */
const LONGEST = 200;

/** The note in a comment, or null. `column` = where the text of the comment begins. */
export function readCycleNote(comment: string, column: number): CycleNote | null {
  if (comment.trim().length > LONGEST || !/here|exactly/i.test(comment)) return null;
  const exact = EXACT.exec(comment);
  if (exact !== null) {
    const range = { column: column + exact[1]!.length, length: exact[2]!.length };
    return { kind: 'open', low: range, high: range };
  }
  const range = RANGE.exec(comment);
  if (range !== null) {
    const [, before, low, between, high] = range as unknown as [string, string, string, string, string];
    const start = column + before.length;
    return {
      kind: 'open',
      low: { column: start, length: low.length },
      high: { column: start + low.length + between.length, length: high.length },
    };
  }
  if (CLOSE.test(comment)) return { kind: 'close' };
  return MISSPELT.test(comment) ? { kind: 'misspelt' } : null;
}
