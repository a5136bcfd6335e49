import { formsOf } from './instruction-forms.ts';
import type { Token } from './token.ts';

const COMMENT = 'A comment begins with ";".';

/**
 * What to do about a word that stands where it cannot: guessed from the word and the one before it.
 * `expected` = what the statement needs there, as the message says it.
 */
export function cureForSyntax(found: Token, before: Token | undefined, expected: string): string {
  if (found.kind === 'end') return cureForEnd(before, expected);
  if (found.kind === 'sign') return cureForSign(found, before);
  if (found.kind === 'directive') return cureForDirective(found, before);
  if (found.kind === 'name' && before?.text === '.else') return 'Write ".elseif" and the condition.';
  if (found.kind === 'register') return `An index stands behind a comma: ",${found.text.toLowerCase()}".`;
  if (found.kind === 'name' && formsOf(found.text.toUpperCase(), true) !== undefined)
    return 'Put each instruction on a line of its own.';
  if (found.kind === 'name' && found.text.toLowerCase() === 'mod')
    return 'The rest of a division is written "a .mod b".';
  if (expected.includes('double quotes')) return `Put it between double quotes.`;
  if (expected.startsWith('a name')) return 'A name begins with a letter or "_".';
  return `Put an operator or a comma between the two, or ";" before a comment.`;
}

function cureForEnd(before: Token | undefined, expected: string): string {
  if (expected === '")"') return 'Close the bracket, or take the opening one out.';
  if (before?.kind === 'sign' && before.text === ',') return 'Write what belongs behind the comma, or take it out.';
  if (expected.startsWith('a number')) return 'Write the value that is missing.';
  return `Write ${expected} and what belongs behind it.`;
}

function cureForSign({ text }: Token, before: Token | undefined): string {
  const behind = before?.kind === 'sign' ? before.text : '';
  if (text === ')') return 'Take the bracket out, or open it further left.';
  if (text === '[' || text === ']' || text === '{' || text === '}')
    return 'Use round brackets: "(pointer),y" for a pointer, "0+(a+b)*2" for a calculation.';
  if (text === '=' && (behind === '=' || behind === '!' || behind === ':='))
    return 'Write "=" for equal and "<>" for not equal; a constant is defined with one "=".';
  if (text === '!') return 'Write "<>" for not equal; a negation inside needs brackets: "(!a)".';
  if (text === '=' && before === undefined) return 'Write the name of the constant before it.';
  if (text === '/') return COMMENT;
  if (text === '#') return `${COMMENT.slice(0, -1)}; "#" stands between an instruction and a number.`;
  if (text === ':')
    return 'A colon stands behind a label where it is defined only; put each statement on a line of its own.';
  if (text === ',') return 'Take the comma out, or write what belongs before it.';
  return 'Write the value that is missing before it.';
}

function cureForDirective({ text, column }: Token, before: Token | undefined): string {
  if (text === '.x' || text === '.y') return `An index stands behind a comma: ",${text.slice(1)}".`;
  const isBehindName = before?.kind === 'name' && before.column + before.length === column;
  if (isBehindName) return `A name inside a scope is written with "::": "${before.text}::${text.slice(1)}".`;
  return `Put ${text} on a line of its own.`;
}
