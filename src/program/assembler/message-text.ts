import type { AssemblyMessage, TrailPlace } from './messages.ts';

const TRAIL: Readonly<Record<TrailPlace['via'], string>> = {
  include: 'included at',
  macro: 'in a macro called at',
  repeat: 'repeated at',
  body: 'used in the macro at',
};

/** Characters of a long line that are shown, and how many of them stand before the span. */
const SHOWN = 160;
const SHOWN_BEFORE = 60;

/** Without characters that would change the terminal. */
const harmless = (text: string): string => text.replace(/[^\P{Cc}\t]/gu, '\u00b7');

/** A part of the line around the span, without characters that would change the terminal. */
function windowOf({ text, column }: AssemblyMessage): { readonly text: string; readonly column: number } {
  const start = text.length <= SHOWN ? 0 : Math.max(0, column - 1 - SHOWN_BEFORE);
  const part = harmless(text.slice(start, start + SHOWN));
  const [before, after] = [start > 0 ? '...' : '', start + SHOWN < text.length ? '...' : ''];
  return { text: before + part + after, column: column - start + before.length };
}

/**
 * A message for a terminal: place and message, the source line with the span marked, the cure, the way that led there.
 *
 *     game.s:12:14: error: the byte is 256, expected 0 to 255
 *             lda #256
 *                  ^^^
 *       Correct the value; ...
 */
export function messageText(message: AssemblyMessage): string {
  const { severity, file, line, span, cure, trail } = message;
  const { text, column } = windowOf(message);
  // Tabs stay tabs, so that the mark stands under what it marks.
  const blanks = text.slice(0, column - 1).replace(/[^\t]/g, ' ');
  const marks = '^'.repeat(Math.max(1, Math.min(span, text.length - column + 1)));
  return [
    `${file}:${line}:${column}: ${severity}: ${harmless(message.message)}`,
    `  ${text}`,
    `  ${blanks}${marks}`,
    `  ${harmless(cure)}`,
    ...trail.map(
      ({ via, file, line, times }) =>
        `  ${TRAIL[via]} ${file}:${line}${times === undefined ? '' : `, ${times} times in each other`}`,
    ),
  ].join('\n');
}
