import type { Mnemonic, OpcodeSpec } from '../../../references/opcodes.ts';
import { BRANCH_TEXTS } from './loop-operations.ts';

/**
 * Cases of the generated loop with a bus sequence of their own: jumps, branches, stack. Notation as in loop-cases.ts.
 * Zero page and stack are never claimed inside the loop, nor is the page of the instruction.
 */
const LEAVE = ['break leave;'];

/** An interrupt may follow I = 0; only without one in sight the loop goes on. */
const LEAVE_UNLESS_IRQ_IS_FAR = 'if (!bus.isIrqFar) break leave;';

const FLAGS_OF_P = ['nz = ((value & 2) ^ 2) | ((value & 128) << 1);', 'c = value & 1;', 'v = (value >> 6) & 1;'];

/** End of a case. */
const pass = (cycles: number): string[] => [`cycle = (cycle + ${cycles}) | 0;`, 'break;'];

/** End of a case that goes on behind the instruction. */
export const next = (bytes: number, cycles: number): string[] => [`at = (at + ${bytes}) | 0;`, ...pass(cycles)];

/** The lines of the case, or undefined when the instruction is address mode x operation. */
export function sequenceLines({ mnemonic, mode }: OpcodeSpec): readonly string[] | undefined {
  if (mode === 'indirect') return jumpIndirect();
  const condition = BRANCH_TEXTS[mnemonic];
  return condition === undefined ? SEQUENCE_TEXTS[mnemonic] : branch(condition);
}

/**
 * Where the reference processor must fetch, it must also jump: only it leaves the last byte of the jump on the bus.
 * Nothing may have been changed before.
 */
const jumpTo = (low: string, page: string): string[] => [
  `low = ${low};`,
  `page = ${page};`,
  'base = fetchBase[page];',
  'if (base < 0) break leave;',
  'at = (base + low) | 0;',
  'delta = (base - (page << 8)) | 0;',
  'codeEnd = fetchEnd[page];',
];

/** Both reads of the pointer are in one page. */
function jumpIndirect(): string[] {
  return [
    'low = memory[at + 1];',
    'page = memory[at + 2];',
    'base = readBase[page];',
    // The reference processor reads pointers in claimed pages.
    'if (base < 0) break leave;',
    'operand = memory[base + ((low + 1) & 255)];',
    ...jumpTo('memory[base + low]', 'operand'),
    ...pass(5),
  ];
}

/** After a jump back: have the loop look whether rounds can be skipped, where that is worth trying. */
const askAtHead = (isBackward: string): string[] => [
  `if (${isBackward} && rests[at] === 0) {`,
  '  isHead = 1;',
  '  codeEnd = -1;',
  '}',
];

const jumpAbsolute = (): string[] => [
  'sum = at;',
  ...jumpTo('memory[at + 1]', 'memory[at + 2]'),
  ...askAtHead('at <= sum'),
  ...pass(3),
];

const indented = (line: string): string => `    ${line}`;

/** Offsets are multiples of 256, so a page is left in `memory` when it is left in the address space. */
function branch(condition: string): string[] {
  return [
    `if (${condition}) {`,
    '  operand = (at + 2) | 0;',
    '  low = (operand + ((memory[at + 1] << 24) >> 24)) | 0;',
    '  if (((operand ^ low) & -256) === 0) {',
    '    at = low;',
    ...askAtHead('low < operand').map(indented),
    '    cycle = (cycle + 3) | 0;',
    '  } else {',
    '    operand = low - delta;',
    '    sum = at;',
    ...[...jumpTo('operand & 255', '(operand >> 8) & 255'), ...askAtHead('at <= sum')].map(indented),
    '    cycle = (cycle + 4) | 0;',
    '  }',
    '} else {',
    '  at = (at + 2) | 0;',
    '  cycle = (cycle + 2) | 0;',
    '}',
    'break;',
  ];
}

const PUSHED_P = 'FLAG_B | FLAG_1 | (core.p & (FLAG_D | FLAG_I)) | packedNvzc(nz, v, c)';

const SEQUENCE_TEXTS: Partial<Readonly<Record<Mnemonic, readonly string[]>>> = {
  BRK: LEAVE,
  JAM: LEAVE,
  SHA: LEAVE,
  SHX: LEAVE,
  SHY: LEAVE,
  TAS: LEAVE,
  JMP: jumpAbsolute(),
  CLI: [LEAVE_UNLESS_IRQ_IS_FAR, 'core.p &= ~FLAG_I;', ...next(1, 2)],
  PHA: ['memory[256 + s] = a;', 's = (s - 1) & 255;', ...next(1, 3)],
  PHP: [`memory[256 + s] = ${PUSHED_P};`, 's = (s - 1) & 255;', ...next(1, 3)],
  PLA: ['s = (s + 1) & 255;', 'nz = a = memory[256 + s];', ...next(1, 4)],
  PLP: [
    LEAVE_UNLESS_IRQ_IS_FAR,
    's = (s + 1) & 255;',
    'value = memory[256 + s];',
    'core.p = (value & ~FLAG_B) | FLAG_1;',
    ...FLAGS_OF_P,
    ...next(1, 4),
  ],
  JSR: [
    'operand = (at + 2 - delta) | 0;',
    ...jumpTo('memory[at + 1]', 'memory[at + 2]'),
    'memory[256 + s] = operand >> 8;',
    'memory[256 + ((s - 1) & 255)] = operand & 255;',
    's = (s - 2) & 255;',
    ...pass(6),
  ],
  RTS: [
    'low = memory[256 + ((s + 1) & 255)];',
    'page = memory[256 + ((s + 2) & 255)];',
    // The last cycle reads the byte before the destination: it must lie in the same page.
    'if (low === 255) break leave;',
    ...jumpTo('low + 1', 'page'),
    's = (s + 2) & 255;',
    ...pass(6),
  ],
  RTI: [
    LEAVE_UNLESS_IRQ_IS_FAR,
    ...jumpTo('memory[256 + ((s + 2) & 255)]', 'memory[256 + ((s + 3) & 255)]'),
    'value = memory[256 + ((s + 1) & 255)];',
    'core.p = (value & ~FLAG_B) | FLAG_1;',
    ...FLAGS_OF_P,
    's = (s + 3) & 255;',
    ...pass(6),
  ],
};
