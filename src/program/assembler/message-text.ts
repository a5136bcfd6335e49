import type { AssemblyMessage, TrailPlace } from './messages.ts';

const TRAIL: Readonly<Record<TrailPlace['via'], string>> = {
  include: 'included at',
  macro: 'in a macro called at',
  repeat: 'repeated at',
  body: 'used in the macro at',
};

/**
 * A message for a terminal: place and message, the source line with the span marked, the cure, the way that led there.
 *
 *     game.s:12:14: error: the byte is 256, expected 0 to 255
 *             lda #256
 *                  ^^^
 *       Correct the value; ...
 */
export function messageText(message: AssemblyMessage): string {
  const { severity, file, line, column, span, text, cure, trail } = message;
  // Tabs stay tabs, so that the mark stands under what it marks.
  const blanks = text.slice(0, column - 1).replace(/[^\t]/g, ' ');
  const marks = '^'.repeat(Math.max(1, Math.min(span, text.length - column + 1)));
  return [
    `${file}:${line}:${column}: ${severity}: ${message.message}`,
    `  ${text}`,
    `  ${blanks}${marks}`,
    `  ${cure}`,
    ...trail.map((place) => `  ${TRAIL[place.via]} ${place.file}:${place.line}`),
  ].join('\n');
}
