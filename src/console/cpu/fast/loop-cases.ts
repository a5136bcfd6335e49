import { LatelightError } from '../../../errors/latelight-error.ts';
import type { AddressMode, OpcodeSpec } from '../../../references/opcodes.ts';
import { IMPLIED_TEXTS, MODIFY_TEXTS, READ_TEXTS, STORED_TEXTS } from './loop-operations.ts';
import { next, sequenceLines } from './loop-sequences.ts';

/**
 * One `case` of the generated loop for each opcode: address mode x operation, as lines of text.
 *
 * `at` is the opcode's place in `memory`, `pc = at - delta`. An access to a page with an offset goes to `memory`; any other
 * is a call of `bus` with the cycle of that access, and so is everything that the instruction still accesses after it. A
 * dummy access stands in the text only where it can fall on such a page. `break leave` = the reference processor runs
 * this instruction: nothing may have been changed yet.
 */
const OPCODE_PC = 'at - delta';

/** The lines of the case, `break` included. */
export function caseLines(spec: OpcodeSpec): readonly string[] {
  const { mnemonic, mode, access, cycles } = spec;
  const sequence = sequenceLines(spec);
  if (sequence !== undefined) return sequence;
  if (mode === 'implied') return [...known(spec, IMPLIED_TEXTS[mnemonic]), ...next(1, cycles)];
  if (mode === 'accumulator') return accumulator(known(spec, MODIFY_TEXTS[mnemonic]));
  if (access === 'read') return read(spec, known(spec, READ_TEXTS[mnemonic]));
  if (access === 'rmw') return modify(spec, known(spec, MODIFY_TEXTS[mnemonic]));
  return store(spec, known(spec, STORED_TEXTS[mnemonic]));
}

function known<Text>({ mnemonic }: OpcodeSpec, text: Text | undefined): Text {
  if (text === undefined) throw new LatelightError('INTERNAL', { what: `${mnemonic} has no text for the loop` });
  return text;
}

const bytesOf = (mode: AddressMode): number => (mode.startsWith('absolute') ? 3 : 2);
const indexOf = (mode: AddressMode): string => (mode.endsWith('X') ? 'x' : 'y');

/** `if (test) plain else { call of the bus }`; the bus may have moved the cycle in which the loop must stop. */
const choose = (test: string, plain: string, call: string): string[] => [
  `if (${test}) ${plain}`,
  'else {',
  `  ${call}`,
  '  stop = bus.stop;',
  '}',
];

/** Place in the zero page of an operand or of a pointer. */
const ZERO_PAGE_PLACES: Partial<Readonly<Record<AddressMode, string>>> = {
  zeroPage: 'memory[at + 1]',
  zeroPageX: '(memory[at + 1] + x) & 255',
  zeroPageY: '(memory[at + 1] + y) & 255',
  indexedIndirect: '(memory[at + 1] + x) & 255',
  indirectIndexed: 'memory[at + 1]',
};

/** `low` and `page` of an operand without an index after it. */
const fixedAddress = (mode: AddressMode): string[] =>
  mode === 'absolute'
    ? ['low = memory[at + 1];', 'page = memory[at + 2];']
    : [`low = ${ZERO_PAGE_PLACES[mode]};`, 'page = memory[(low + 1) & 255];', 'low = memory[low];'];

/** `base` = the address before the index in 16 bits, `low` = its low byte plus the index, `page` = its high byte. */
const indexedAddress = (mode: AddressMode): string[] => {
  const [low, high] =
    mode === 'indirectIndexed'
      ? ['memory[memory[at + 1]]', 'memory[(memory[at + 1] + 1) & 255]']
      : ['memory[at + 1]', 'memory[at + 2]'];
  return [`low = ${low};`, `page = ${high};`, 'operand = (page << 8) | low;', `low = (low + ${indexOf(mode)}) | 0;`];
};

const isIndexed = (mode: AddressMode): boolean =>
  mode === 'absoluteX' || mode === 'absoluteY' || mode === 'indirectIndexed';
const isZeroPage = (mode: AddressMode): boolean => mode.startsWith('zeroPage');

function read({ mode, cycles }: OpcodeSpec, operation: readonly string[]): string[] {
  return [...readOperand(mode, cycles - 1), ...operation, ...next(bytesOf(mode), cycles)];
}

function readOperand(mode: AddressMode, cycle: number): string[] {
  if (mode === 'immediate') return ['value = memory[at + 1];'];
  if (isZeroPage(mode)) return [`value = memory[${ZERO_PAGE_PLACES[mode]}];`];
  if (isIndexed(mode)) return readIndexed(mode, cycle);
  const call = `value = bus.readAt((page << 8) | low, page, cycle + ${cycle}, ${OPCODE_PC});`;
  return [...fixedAddress(mode), 'base = readBase[page];', ...choose('base >= 0', 'value = memory[base + low];', call)];
}

/** A carry of the index costs a cycle and a read at the uncorrected address. */
function readIndexed(mode: AddressMode, cycle: number): string[] {
  const call = `value = bus.readIndexed(operand, ${indexOf(mode)}, cycle + ${cycle}, ${OPCODE_PC});`;
  return [
    ...indexedAddress(mode),
    'base = readBase[page];',
    'if (low > 255) {',
    '  low &= 255;',
    '  cycle = (cycle + 1) | 0;',
    '  if (base >= 0) base = readBase[(page + 1) & 255];',
    '}',
    ...choose('base >= 0', 'value = memory[base + low];', call),
  ];
}

function store({ mode, cycles }: OpcodeSpec, stored: string): string[] {
  const end = next(bytesOf(mode), cycles);
  const written = `${stored}, cycle + ${cycles - 1}, ${OPCODE_PC}`;
  if (isZeroPage(mode)) {
    const call = `bus.writeAt(low, ${written});`;
    return [`low = ${ZERO_PAGE_PLACES[mode]};`, ...choose('isZeroPagePlain', `memory[low] = ${stored};`, call), ...end];
  }
  if (isIndexed(mode)) {
    const call = `bus.writeIndexed(operand, ${indexOf(mode)}, ${written});`;
    const plain = `memory[base + (low & 255)] = ${stored};`;
    return [
      ...indexedAddress(mode),
      'base = readBase[page];',
      'if (base >= 0) base = writeBase[(page + (low >> 8)) & 255];',
      ...choose('base >= 0', plain, call),
      ...end,
    ];
  }
  const call = `bus.writeAt((page << 8) | low, ${written});`;
  return [
    ...fixedAddress(mode),
    'base = writeBase[page];',
    ...choose('base >= 0', `memory[base + low] = ${stored};`, call),
    ...end,
  ];
}

/** The old value goes out in the last cycle but one, the result in the last. */
function modify({ mode, cycles }: OpcodeSpec, operation: readonly string[]): string[] {
  const written = `value, result, cycle + ${cycles - 2}, ${OPCODE_PC}`;
  const call = `bus.modifyAt(operand, ${written});`;
  const place = isZeroPage(mode)
    ? [`operand = ${ZERO_PAGE_PLACES[mode]};`, 'value = memory[operand];']
    : modifyPlace(mode, cycles);
  const putBack = isZeroPage(mode)
    ? choose('isZeroPagePlain', 'memory[operand] = result;', call)
    : choose('base >= 0', 'memory[base] = result;', call);
  return [...place, ...operation, ...putBack, ...next(bytesOf(mode), cycles)];
}

/** `value`, and where the result goes: place `base` in memory, or address `operand` when `base` is negative. */
function modifyPlace(mode: AddressMode, cycles: number): string[] {
  const plain = ['  value = memory[base + low];', '  base = (writeBase[page] + low) | 0;', '} else {'];
  const readCycle = `cycle + ${cycles - 3}, ${OPCODE_PC}`;
  if (isIndexed(mode)) {
    return [
      ...indexedAddress(mode),
      'base = readBase[page];',
      'page = (page + (low >> 8)) & 255;',
      'low &= 255;',
      'if (base >= 0) base = readBase[page];',
      'if ((base | writeBase[page]) >= 0) {',
      ...plain,
      `  value = bus.readForModify(operand, ${indexOf(mode)}, ${readCycle});`,
      '  operand = (page << 8) | low;',
      '  base = -1;',
      '}',
    ];
  }
  return [
    ...fixedAddress(mode),
    'base = readBase[page];',
    'if ((base | writeBase[page]) >= 0) {',
    ...plain,
    '  operand = (page << 8) | low;',
    `  value = bus.readAt(operand, page, ${readCycle});`,
    '  base = -1;',
    '}',
  ];
}

function accumulator(operation: readonly string[]): string[] {
  return ['value = a;', ...operation, 'a = result;', ...next(1, 2)];
}
