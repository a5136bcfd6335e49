import { applyUnary, type UnaryOperator } from './arithmetic.ts';
import type { Assembly } from './assembly.ts';
import { Fault, spanOf } from './messages.ts';
import { dataPaths } from './source-files.ts';
import { type Expression, numberExpression } from './symbols.ts';
import type { Token } from './token.ts';
import type { TokenCursor } from './token-cursor.ts';

/** A command that puts bytes or reserves them; the cursor stands behind its name. */
export type Command = (cursor: TokenCursor, assembly: Assembly, token: Token) => void;

const LARGEST_COUNT = 0xffff;
const LARGEST_ALIGNMENT = 0x1000;

/** Do something for each entry of a list with commas. At least one entry is wanted. */
export function forEachEntry(cursor: TokenCursor, read: () => void): void {
  do read();
  while (cursor.skipSign(','));
  cursor.expectEnd('"," or the end of the statement');
}

function putString(text: string, assembly: Assembly): void {
  for (let i = 0; i < text.length; i++) assembly.byte(assembly.characterCode(text.charCodeAt(i)));
}

/** One value of a list; what is a number and fits is put at once. */
function putValue(kind: 'byte' | 'word' | 'bigWord' | 'long', cursor: TokenCursor, assembly: Assembly): void {
  const first = cursor.peek();
  const expression = assembly.expression(cursor);
  if (kind === 'byte' && expression.kind === 'number' && expression.value >= 0 && expression.value <= 0xff) {
    assembly.byte(expression.value);
  } else assembly.deferred(kind, expression, cursor.spanFrom(first));
}

const values =
  (kind: 'word' | 'bigWord' | 'long'): Command =>
  (cursor, assembly) =>
    forEachEntry(cursor, () => putValue(kind, cursor, assembly));

const bytes: Command = (cursor, assembly) =>
  forEachEntry(cursor, () => {
    if (cursor.peek().kind === 'string') putString(cursor.take().text, assembly);
    else putValue('byte', cursor, assembly);
  });

/** One byte of each value: `.lobytes`, `.hibytes`. */
const parts =
  (operator: UnaryOperator): Command =>
  (cursor, assembly, token) =>
    forEachEntry(cursor, () => {
      const first = cursor.peek();
      const operand = assembly.expression(cursor);
      assembly.deferred('byte', partOf(operator, operand, token), cursor.spanFrom(first));
    });

function partOf(operator: UnaryOperator, operand: Expression, token: Token): Expression {
  if (operand.kind === 'number') return numberExpression(applyUnary(operator, operand.value));
  return { kind: 'unary', operator, operand, token };
}

const zeroEndedText: Command = (cursor, assembly) => {
  forEachEntry(cursor, () => putString(cursor.expect('string', 'a string').text, assembly));
  assembly.byte(0);
};

/** `.res count [, value]` */
const reserve: Command = (cursor, assembly) => {
  const count = assembly.constantWithin(cursor, 'the count of .res', 0, LARGEST_COUNT);
  const value = fillValue(cursor, assembly);
  cursor.expectEnd('"," or the end of the statement');
  assembly.segment.reserve(count, value, assembly.origin);
};

/** `.align boundary [, value]`: up to a multiple of the boundary, counted from the start of the segment. */
const align: Command = (cursor, assembly) => {
  const to = assembly.constantWithin(cursor, 'the boundary of .align', 1, LARGEST_ALIGNMENT);
  const value = fillValue(cursor, assembly);
  cursor.expectEnd('"," or the end of the statement');
  const { segment, origin } = assembly;
  segment.reserve((to - (segment.length % to)) % to, value, origin);
  segment.alignments.push({ offset: segment.length, to, origin });
};

const fillValue = (cursor: TokenCursor, assembly: Assembly): number | undefined =>
  cursor.skipSign(',') ? assembly.constantWithin(cursor, 'the value to fill with', 0, 0xff) : undefined;

/** `.incbin "file" [, offset [, size]]`: bytes of a file; a negative size means up to its end. */
const includeBytes: Command = (cursor, assembly) => {
  const name = cursor.expect('string', 'the name of a file between double quotes');
  const offset = cursor.skipSign(',') ? assembly.constantWithin(cursor, 'the offset', 0, 0xffffffff) : 0;
  const first = cursor.peek();
  const size = cursor.skipSign(',') ? assembly.constant(cursor, 'the size') : -1;
  cursor.expectEnd('"," or the end of the statement');
  const data = readBytes(name, assembly);
  const end = size < 0 ? data.length : offset + size;
  if (offset > data.length || end > data.length) {
    const cure = `The file has ${data.length} bytes: ask for fewer, or leave the size out.`;
    const details = { what: 'the end of the part', found: Math.max(offset, end), low: 0, high: data.length, cure };
    throw new Fault('ASM_RANGE', details, size < 0 ? spanOf(name) : cursor.spanFrom(first));
  }
  for (let i = offset; i < end; i++) assembly.byte(data[i]!);
};

function readBytes(name: Token, assembly: Assembly): Uint8Array {
  const paths = dataPaths(name.text, assembly.origin);
  for (const path of paths) {
    const data = name.text === '' ? undefined : assembly.files.readBytes(path);
    if (data !== undefined) return data;
  }
  throw new Fault('ASM_FILE', { name: name.text, tried: paths.join(', ') }, spanOf(name));
}

/** `.charmap code, byte`: what a character of a string or between single quotes becomes. */
const mapCharacter: Command = (cursor, assembly) => {
  const code = assembly.constantWithin(cursor, 'the character', 0, 0xff);
  cursor.expectSign(',');
  assembly.characters[code] = assembly.constantWithin(cursor, 'the byte for the character', 0, 0xff);
  cursor.expectEnd();
};

/** `.assert expression, error|warning [, "message"]`: checked when every address is known. */
const assertion: Command = (cursor, assembly) => {
  const first = cursor.peek();
  const expression = assembly.expression(cursor);
  const span = cursor.spanFrom(first);
  const cure = 'Say what follows when it does not hold: .assert a = b, error, "text"';
  cursor.expectSign(',', cure);
  const action = cursor.peek();
  if (action.kind !== 'name' || !/^(ld)?(error|warning)$/i.test(action.text))
    cursor.refuse('"error" or "warning"', cure);
  cursor.take();
  const text = cursor.skipSign(',') ? cursor.expect('string', 'a message between double quotes').text : '';
  cursor.expectEnd();
  const isError = /error/i.test(action.text);
  assembly.assertions.push({ expression, isError, text, span, origin: assembly.origin });
};

/** `.error`, `.warning`, `.fatal`: the author's own message. */
const say: Command = (cursor, assembly, token) => {
  const text = cursor.expect('string', 'a message between double quotes');
  cursor.expectEnd();
  if (token.text === '.warning') assembly.warning('ASM_SAID', { text: text.text }, spanOf(token, text));
  else assembly.error('ASM_SAID', { text: text.text }, spanOf(token, text));
  if (token.text === '.fatal') assembly.reader.cutShort();
};

export const DATA_COMMANDS: Readonly<Record<string, Command>> = {
  '.byte': bytes,
  '.byt': bytes,
  '.word': values('word'),
  '.addr': values('word'),
  '.dbyt': values('bigWord'),
  '.dword': values('long'),
  '.lobytes': parts('<'),
  '.hibytes': parts('>'),
  '.asciiz': zeroEndedText,
  '.res': reserve,
  '.align': align,
  '.incbin': includeBytes,
  '.charmap': mapCharacter,
  '.assert': assertion,
  '.error': say,
  '.warning': say,
  '.fatal': say,
};
