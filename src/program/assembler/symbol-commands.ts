import type { Assembly } from './assembly.ts';
import { type Command, forEachEntry } from './data-commands.ts';
import { ownSegment } from './foreign-words.ts';
import { Fault, spanOf } from './messages.ts';
import { nearest } from './spelling.ts';
import type { Scope } from './symbols.ts';
import type { Token } from './token.ts';
import type { TokenCursor } from './token-cursor.ts';

const MOST_SCOPES = 100;

/** Commands about names, scopes, segments and the processor. */

const proc: Command = (cursor, assembly, token) =>
  opening('proc', assembly, token, () => {
    const name = cursor.expect('name', 'a name for the procedure');
    if (!cursor.isAtEnd) assembly.breakName(name);
    cursor.expectEnd();
    assembly.define(name, 'label', null);
    assembly.openScope(name, 'proc', token);
  });

const scope: Command = (cursor, assembly, token) =>
  opening('scope', assembly, token, () => {
    const name = cursor.isAtEnd ? null : cursor.expect('name', 'a name for the scope');
    cursor.expectEnd();
    assembly.openScope(name, 'scope', token);
  });

/** A block whose first line is wrong is opened without a name, so that its end finds it. */
function opening(kind: 'proc' | 'scope', assembly: Assembly, token: Token, open: () => void): void {
  const outer = assembly.scope;
  checkDepth(outer, token);
  try {
    open();
  } catch (thrown) {
    if (assembly.scope === outer) assembly.openScope(null, kind, token);
    throw thrown;
  }
}

function checkDepth(scope: Scope, token: Token): void {
  let depth = 0;
  for (let at: Scope | null = scope; at !== null; at = at.parent) depth++;
  if (depth > MOST_SCOPES)
    throw new Fault('ASM_LIMIT', { what: 'scopes inside each other', limit: `${MOST_SCOPES}` }, spanOf(token));
}

const close =
  (kind: 'proc' | 'scope'): Command =>
  (cursor, assembly, token) => {
    const { scope } = assembly;
    if (scope.kind !== kind) {
      const details = { name: token.text, begin: `.${kind}` };
      throw new Fault('ASM_BLOCK_CLOSE', details, spanOf(token));
    }
    assembly.closeScope();
    cursor.expectEnd();
  };

/** Report every scope that is still open at the end. */
export function reportOpenScopes(assembly: Assembly): void {
  for (let at: Scope | null = assembly.scope; at !== null; at = at.parent) {
    if (at.token === null || at.origin === null) continue;
    assembly.messages.error(
      'ASM_BLOCK_OPEN',
      { name: at.token.text, end: `.end${at.kind}`, hint: '' },
      spanOf(at.token),
      at.origin,
    );
  }
}

/** `.segment "NAME" [: zeropage | absolute]` */
const chooseSegment: Command = (cursor, assembly) => {
  const name = cursor.expect('string', 'the name of a segment between double quotes');
  const segment = assembly.segments.get(name.text);
  if (segment === undefined) refuseSegment(name, assembly);
  if (cursor.skipSign(':')) {
    const size = cursor.expect('name', '"zeropage" or "absolute"');
    const isZeroPage = /^(zeropage|zp|direct)$/i.test(size.text);
    if (!isZeroPage && !/^(absolute|abs|near)$/i.test(size.text))
      throw new Fault('ASM_SYNTAX', syntax(size), spanOf(size));
    if (isZeroPage !== segment.isZeroPage) throw new Fault('ASM_SEGMENT_SIZE', { name: name.text }, spanOf(size));
  }
  cursor.expectEnd();
  assembly.segment = segment;
  segment.isUsed = true;
};

const syntax = ({ text }: Token): { found: string; expected: string; cure: string } => ({
  found: `"${text}"`,
  expected: '"zeropage" or "absolute"',
  cure: 'Leave the size out: every segment has its own.',
});

function refuseSegment(name: Token, { segments }: Assembly): never {
  const names = [...segments.keys()];
  const near =
    ownSegment(name.text) ??
    nearest(name.text, names) ??
    names.find((known) => known.toLowerCase() === name.text.toLowerCase());
  const all = names.map((known) => `"${known}"`).join(', ');
  const cure =
    near === undefined
      ? `The memory map is fixed; its segments are ${all}.`
      : `Did you mean "${near}"? The segments are ${all}.`;
  throw new Fault('ASM_SEGMENT_UNKNOWN', { name: name.text, cure }, spanOf(name));
}

const goTo =
  (name: string): Command =>
  (cursor, assembly) => {
    cursor.expectEnd();
    assembly.segment = assembly.segments.get(name)!;
  };

const pushSegment: Command = (cursor, assembly, token) => {
  cursor.expectEnd();
  const { segmentStack, segment, origin } = assembly;
  if (segmentStack.length >= MOST_SCOPES)
    throw new Fault('ASM_LIMIT', { what: 'segments on the stack', limit: `${MOST_SCOPES}` }, spanOf(token));
  segmentStack.push({ segment, span: spanOf(token), origin });
};

const popSegment: Command = (cursor, assembly, token) => {
  cursor.expectEnd();
  const saved = assembly.segmentStack.pop();
  if (saved === undefined) throw new Fault('ASM_BLOCK_CLOSE', { name: token.text, begin: '.pushseg' }, spanOf(token));
  assembly.segment = saved.segment;
};

/** `.export name [= value], ...`: there is no linker, but the name must exist; ld65 lists it twice in its label file. */
const exportNames: Command = (cursor, assembly) =>
  forEachEntry(cursor, () => {
    const name = cursor.expect('name', 'a name');
    if (cursor.isSign('=') || cursor.isSign(':=')) defineValue(name, cursor, assembly);
    const symbol = assembly.declare(name);
    symbol.isExported = true;
    symbol.isMentionedAlone = true;
  });

/** `.global name, ...` exports the name if it is defined; `.globalzp` gives a name that is defined later the size of the zero page. */
const declareNames: Command = (cursor, assembly, token) =>
  forEachEntry(cursor, () => {
    const symbol = assembly.declare(cursor.expect('name', 'a name'));
    symbol.isExported = true;
    symbol.isGlobal = true;
    if (token.text === '.globalzp') symbol.isDeclaredZeroPage = true;
  });

/** `name = value` and `name := value`; the cursor stands before the sign. */
export function defineValue(name: Token, cursor: TokenCursor, assembly: Assembly): void {
  const sign = cursor.take().text;
  const value = valueFor(name, assembly, () => assembly.expression(cursor));
  assembly.define(name, sign === ':=' ? 'label' : 'constant', value);
}

/** The value of a name, which is broken without one. */
function valueFor<T>(name: Token, assembly: Assembly, read: () => T): T {
  try {
    return read();
  } catch (thrown) {
    if (name.kind === 'name') assembly.breakName(name);
    throw thrown;
  }
}

/** `name .set value`; the cursor stands before the command. */
export function setVariable(name: Token, cursor: TokenCursor, assembly: Assembly): void {
  cursor.take();
  const value = valueFor(name, assembly, () => assembly.constant(cursor, 'the value of a variable'));
  assembly.define(name, 'variable', { kind: 'number', value });
}

const PROCESSORS: Readonly<Record<string, boolean>> = { '6502': false, '6502X': true };

const setProcessor: Command = (cursor, assembly) => {
  const name = cursor.expect('string', 'the name of a processor between double quotes');
  cursor.expectEnd();
  const key = name.text.toUpperCase();
  if (!Object.hasOwn(PROCESSORS, key)) throw new Fault('ASM_PROCESSOR', { name: name.text }, spanOf(name));
  assembly.isExtended = PROCESSORS[key]!;
};

const plainProcessor: Command = (cursor, assembly) => {
  cursor.expectEnd();
  assembly.isExtended = false;
};

/** `.debuginfo on`, `.list off`: they change nothing here. */
const ignoredSwitch: Command = (cursor) => {
  const { text } = cursor.peek();
  if (!cursor.isAtEnd && !/^(on|off|\+|-)$/i.test(text)) cursor.refuse('"on" or "off"');
  if (!cursor.isAtEnd) cursor.take();
  cursor.expectEnd();
};

/** `.listbytes 8`, `.pagelength unlimited`: they change nothing here. */
const ignoredNumber: Command = (cursor, assembly) => {
  if (/^unlimited$/i.test(cursor.peek().text)) cursor.take();
  else assembly.constantWithin(cursor, 'the number', 0, 255);
  cursor.expectEnd();
};

/** `.fileopt author, "name"`: it changes nothing here. */
const ignoredOption: Command = (cursor) => {
  cursor.expect('name', 'the name of an option');
  cursor.expectSign(',');
  cursor.expect('string', 'a string');
  cursor.expectEnd();
};

const end: Command = (cursor, assembly) => {
  cursor.expectEnd();
  assembly.reader.stop();
};

export const SYMBOL_COMMANDS: Readonly<Record<string, Command>> = {
  '.proc': proc,
  '.endproc': close('proc'),
  '.scope': scope,
  '.endscope': close('scope'),
  '.segment': chooseSegment,
  '.code': goTo('CODE'),
  '.rodata': goTo('RODATA'),
  '.bss': goTo('BSS'),
  '.zeropage': goTo('ZEROPAGE'),
  '.pushseg': pushSegment,
  '.popseg': popSegment,
  '.export': exportNames,
  '.exportzp': exportNames,
  '.global': declareNames,
  '.globalzp': declareNames,
  '.setcpu': setProcessor,
  '.p02': plainProcessor,
  '.debuginfo': ignoredSwitch,
  '.list': ignoredSwitch,
  '.listbytes': ignoredNumber,
  '.pagelen': ignoredNumber,
  '.pagelength': ignoredNumber,
  '.fileopt': ignoredOption,
  '.fopt': ignoredOption,
  '.end': end,
};
