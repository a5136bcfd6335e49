import { OPCODES } from '../../references/opcodes.ts';
import { hexAddress } from '../labels.ts';
import type { Assembly, Fixup, LineRecord } from './assembly.ts';
import { evaluate } from './evaluation.ts';
import { type Knowledge, study } from './expression-study.ts';
import { HEADER_BYTES, IMAGE_BYTES, PROGRAM_BYTES, PROGRAM_START, type Segment, VECTORS_START } from './memory-map.ts';
import { Fault, type Span, wholeLine } from './messages.ts';
import type { Expression } from './symbols.ts';

/** Give every segment its address, and check that everything fits. */
export function placeSegments(assembly: Assembly): void {
  const { segments, messages } = assembly;
  const code = segments.get('CODE')!;
  const rodata = segments.get('RODATA')!;
  rodata.start = code.start + code.length;
  for (const segment of segments.values()) {
    if (segment.overflow !== null) reportOverflow(segment, assembly);
    if (segment.spec.isNeeded && !segment.isUsed && !assembly.reader.isCutShort) {
      const { origin } = assembly;
      const details = { name: segment.name, example: segment.spec.example };
      messages.error('ASM_SEGMENT_MISSING', details, wholeLine(origin.source), origin);
    }
  }
  const isBoth =
    code.overflow === null && rodata.overflow === null && code.length + rodata.length > VECTORS_START - PROGRAM_START;
  if (isBoth) reportRodata(code, rodata, assembly);
  for (const segment of segments.values()) checkAlignments(segment, assembly);
}

function reportOverflow(segment: Segment, { messages }: Assembly): void {
  const { name, spec, length, overflow } = segment;
  const details = { name, room: spec.size, length, excess: length - spec.size };
  messages.error('ASM_SEGMENT_FULL', details, wholeLine(overflow!.source), overflow!);
}

/** CODE and RODATA fit alone, but not together: point to the line of RODATA that goes too far. */
function reportRodata(code: Segment, rodata: Segment, { records, messages }: Assembly): void {
  const room = VECTORS_START - PROGRAM_START - code.length;
  const at = records.find(({ segment, offset, length }) => segment === rodata && offset + length > room);
  if (at === undefined) return;
  const details = { name: 'RODATA', room, length: rodata.length, excess: rodata.length - room };
  messages.error('ASM_SEGMENT_FULL', details, wholeLine(at.origin.source), at.origin);
}

function checkAlignments({ name, start, alignments }: Segment, { messages }: Assembly): void {
  for (const { offset, to, origin } of alignments) {
    const excess = (start + offset) % to;
    if (excess === 0) continue;
    messages.error(
      'ASM_ALIGNMENT',
      { name, to, start: hexAddress(start), found: hexAddress(start + offset) },
      wholeLine(origin.source),
      origin,
    );
  }
}

/** Compute every value that had to wait for the addresses. */
export function applyFixups(assembly: Assembly): void {
  for (const fixup of assembly.fixups) {
    try {
      applyFixup(fixup, assembly);
    } catch (thrown) {
      assembly.messages.caught(thrown, fixup.origin);
    }
  }
}

const isOverfull = ({ segments }: Assembly): boolean =>
  [...segments.values()].some(({ overflow }) => overflow !== null);

const LIMITS = { byte: 0xff, word: 0xffff, bigWord: 0xffff, pointer: 0xffff, long: 0xffffffff } as const;

function applyFixup(fixup: Fixup, assembly: Assembly): void {
  const { kind, segment, offset, expression, span } = fixup;
  if (kind === 'branch') {
    applyBranch(fixup, assembly);
    return;
  }
  const value = evaluate(expression, assembly);
  // Addresses behind a segment that is too long are wrong, and that is reported.
  if (isOverfull(assembly) && study(expression, assembly).places.length > 0) return;
  if (kind !== 'long') checkSize(fixup, value, assembly);
  const high = LIMITS[kind];
  if (value < 0 || value > high) {
    const what = kind === 'byte' ? 'the byte' : kind === 'long' ? 'the long word' : 'the word';
    if (fixup.zeroPageForm !== null) refuseZeroPage(fixup.zeroPageForm, span);
    throw new Fault('ASM_RANGE', { what, found: value, low: 0, high, cure: cureForRange(kind, value) }, span);
  }
  if (kind === 'pointer' && value % 0x100 === 0xff)
    throw new Fault('ASM_JUMP_PAGE', { found: hexAddress(value), next: hexAddress(value - 0xff) }, span);
  if (fixup.isGuess && study(expression, assembly).size === 1) {
    assembly.messages.warning('ASM_ZEROPAGE_LATE', {}, span, fixup.origin);
  }
  const count = kind === 'byte' ? 1 : kind === 'long' ? 4 : 2;
  for (let i = 0; i < count; i++) {
    const place = kind === 'bigWord' ? count - 1 - i : i;
    segment.patch(offset + place, byteOf(value, i));
  }
}

/** ca65 refuses an address where a byte is wanted, and one of three bytes where a word is, even if its value would fit. */
function checkSize({ kind, expression, span, zeroPageForm }: Fixup, value: number, knowledge: Knowledge): void {
  const { isPlain, places, size } = study(expression, knowledge);
  if (isPlain && places.length === 0) return;
  if (kind !== 'byte' && size > 2) throw new Fault('ASM_ADDRESS_AS_WORD', {}, span);
  if (kind !== 'byte' || size <= 1) return;
  if (zeroPageForm !== null) refuseZeroPage(zeroPageForm, span);
  throw new Fault('ASM_ADDRESS_AS_BYTE', { found: hexAddress(value) }, span);
}

function refuseZeroPage(form: string, span: Span): never {
  throw new Fault('ASM_NOT_ZERO_PAGE', { form, other: '' }, span);
}

function cureForRange(kind: keyof typeof LIMITS, value: number): string {
  if (value < 0 && kind === 'byte')
    return `Its byte is $${hexAddress(value & 0xff).slice(-2)}: write that, or "<(...)" around the value.`;
  if (value < 0) return 'Cut the number to its bits: "(-1) & $FFFF" for a word.';
  if (kind === 'byte') return 'Write a smaller number, or "<" before it for its low byte and ">" for its high byte.';
  return kind === 'long' ? 'Write a smaller number.' : 'Write a smaller number, or .loword(...) around it.';
}

/** The bit of a branch's opcode that turns its condition round. */
const OPPOSITE = 0x20;
const FORWARD = 127;
const BACKWARD = 128;

function applyBranch({ segment, offset, expression, span }: Fixup, knowledge: Knowledge): void {
  const { isPlain, places } = study(expression, knowledge);
  const target = evaluate(expression, knowledge);
  const [place] = places;
  const isHere = isPlain && places.length === 1 && place?.[0] === segment && place[1] === 1;
  if (!isHere) throw new Fault('ASM_BRANCH_ELSEWHERE', { found: hexAddress(target), segment: segment.name }, span);
  const distance = target - (segment.start + offset + 1);
  if (distance > FORWARD || distance < -BACKWARD) {
    const isForward = distance > 0;
    const details = {
      distance: Math.abs(distance),
      direction: isForward ? 'forward' : 'back',
      limit: isForward ? FORWARD : BACKWARD,
      opposite: OPCODES[segment.bytes[offset - 1]! ^ OPPOSITE]?.mnemonic.toLowerCase() ?? '',
      target: textOf(span),
    };
    throw new Fault('ASM_BRANCH_RANGE', details, span);
  }
  segment.patch(offset, distance & 0xff);
}

/** Memory that nothing fills at power-on must not hold instructions or data. Zeros pass, as ld65 lets them pass. */
export function checkReservations({ segments, records, messages }: Assembly): void {
  for (const segment of segments.values()) {
    if (segment.spec.kind === 'rom') continue;
    const first = segment.bytes.findIndex((byte) => byte !== 0);
    const record = first < 0 ? undefined : recordAt(records, segment, first);
    if (record === undefined) continue;
    messages.error('ASM_SEGMENT_DATA', { name: segment.name }, wholeLine(record.origin.source), record.origin);
  }
}

const recordAt = (records: readonly LineRecord[], segment: Segment, offset: number): LineRecord | undefined =>
  records.find(
    (record) => record.segment === segment && offset >= record.offset && offset < record.offset + record.length,
  );

export function checkAssertions(assembly: Assembly): void {
  const { assertions, messages } = assembly;
  for (const { expression, isError, text, span, origin } of assertions) {
    try {
      if (evaluate(expression, assembly) !== 0 || isOverfull(assembly)) continue;
    } catch (thrown) {
      messages.caught(thrown, origin);
      continue;
    }
    const details = {
      found: `"${textOf(span)}"`,
      text: `${sidesOf(expression, assembly)}${text === '' ? '' : `: ${text}`}`,
    };
    if (isError) messages.error('ASM_ASSERT', details, span, origin);
    else messages.warning('ASM_ASSERT', details, span, origin);
  }
}

const textOf = ({ source, column, length }: Span): string => source.text.slice(column, column + length);

/** Both sides of a comparison. */
function sidesOf(expression: Expression, knowledge: Knowledge): string {
  const isComparison = expression.kind === 'binary' && ['=', '<>', '<', '>', '<=', '>='].includes(expression.operator);
  if (!isComparison) return '';
  const [left, right] = [expression.left, expression.right].map((side) => evaluate(side, knowledge));
  return `, left ${left}, right ${right}`;
}

/** The image file, when everything fits. */
export function makeImage(segments: ReadonlyMap<string, Segment>): Uint8Array {
  const image = new Uint8Array(IMAGE_BYTES);
  image.fill(0xff, HEADER_BYTES, HEADER_BYTES + PROGRAM_BYTES);
  for (const segment of segments.values()) {
    const offset = imageOffset(segment);
    if (offset !== null) image.set(segment.bytes.subarray(0, segment.length), offset);
  }
  return image;
}

/** Place of a segment in the image file; null for memory. */
export function imageOffset({ name, start, spec }: Segment): number | null {
  if (spec.kind !== 'rom') return null;
  if (name === 'HEADER') return 0;
  return name === 'PATTERNS' ? HEADER_BYTES + PROGRAM_BYTES : HEADER_BYTES + start - PROGRAM_START;
}

/** Byte `index` of a number, the lowest first. */
function byteOf(value: number, index: number): number {
  let rest = value;
  for (let i = 0; i < index; i++) rest = Math.floor(rest / 0x100);
  return rest % 0x100;
}
