import type { Mnemonic } from '../../../references/opcodes.ts';

/**
 * What each instruction does to the loop's locals, as lines of text for the generated loop; no bus here.
 *
 * Locals: `a x y s` bytes; `nz` the last result in 9 bits: Z = the low eight are 0, N = bit 7 or bit 8 (BIT and PLP can ask
 * for negative and zero at once); `c v` 0 or 1; D and I stay in `core.p`, whose other bits are stale inside the loop.
 * `value` is the operand, `result` the byte that a read-modify-write puts back; `sum` and `term` are scratch.
 * Source of the undocumented ones: hardware documentation wiki, page "Programming with unofficial opcodes".
 */
type Texts = Partial<Readonly<Record<Mnemonic, readonly string[]>>>;

/** The leak of ANE and LXA; why it is $EE stands at the reference's operations. */
const UNSTABLE_MAGIC = '0xee';

const add = (term: string): string[] => [
  `sum = a + ${term} + c;`,
  `v = (((a ^ sum) & (${term} ^ sum)) >> 7) & 1;`,
  'c = sum >> 8;',
  'nz = a = sum & 255;',
];
const compare = (register: string, value: string): string[] => [
  `sum = ${register} - ${value};`,
  'c = (sum >> 31) + 1;',
  'nz = sum & 255;',
];

const SHIFT_LEFT = ['c = value >> 7;', 'nz = result = (value << 1) & 255;'];
const SHIFT_RIGHT = ['c = value & 1;', 'nz = result = value >> 1;'];
const ROTATE_LEFT = ['nz = result = ((value << 1) | c) & 255;', 'c = value >> 7;'];
const ROTATE_RIGHT = ['nz = result = (value >> 1) | (c << 7);', 'c = value & 1;'];

export const READ_TEXTS: Texts = {
  ADC: add('value'),
  AND: ['nz = a = a & value;'],
  BIT: ['nz = (a & value) | ((value & 128) << 1);', 'v = (value >> 6) & 1;'],
  CMP: compare('a', 'value'),
  CPX: compare('x', 'value'),
  CPY: compare('y', 'value'),
  EOR: ['nz = a = a ^ value;'],
  LDA: ['nz = a = value;'],
  LDX: ['nz = x = value;'],
  LDY: ['nz = y = value;'],
  NOP: [],
  ORA: ['nz = a = a | value;'],
  SBC: ['value ^= 255;', ...add('value')],
  ALR: ['value &= a;', 'c = value & 1;', 'nz = a = value >> 1;'],
  ANC: ['nz = a = a & value;', 'c = a >> 7;'],
  ANE: [`nz = a = (a | ${UNSTABLE_MAGIC}) & x & value;`],
  ARR: ['nz = a = ((a & value) >> 1) | (c << 7);', 'c = (a >> 6) & 1;', 'v = ((a >> 6) ^ (a >> 5)) & 1;'],
  LAS: ['nz = a = x = s = s & value;'],
  LAX: ['nz = a = x = value;'],
  LXA: [`nz = a = x = (a | ${UNSTABLE_MAGIC}) & value;`],
  SBX: ['sum = (a & x) - value;', 'c = (sum >> 31) + 1;', 'nz = x = sum & 255;'],
};

export const MODIFY_TEXTS: Texts = {
  ASL: SHIFT_LEFT,
  DEC: ['nz = result = (value - 1) & 255;'],
  INC: ['nz = result = (value + 1) & 255;'],
  LSR: SHIFT_RIGHT,
  ROL: ROTATE_LEFT,
  ROR: ROTATE_RIGHT,
  DCP: ['result = (value - 1) & 255;', ...compare('a', 'result')],
  ISC: ['result = (value + 1) & 255;', 'term = result ^ 255;', ...add('term')],
  RLA: [...ROTATE_LEFT, 'nz = a = a & result;'],
  RRA: [...ROTATE_RIGHT, ...add('result')],
  SLO: [...SHIFT_LEFT, 'nz = a = a | result;'],
  SRE: [...SHIFT_RIGHT, 'nz = a = a ^ result;'],
};

/** The byte that a store writes. SHA, SHX, SHY and TAS leave the loop. */
export const STORED_TEXTS: Partial<Readonly<Record<Mnemonic, string>>> = { STA: 'a', STX: 'x', STY: 'y', SAX: 'a & x' };

/** CLI can let an interrupt in: it stands with the sequences. */
export const IMPLIED_TEXTS: Texts = {
  CLC: ['c = 0;'],
  CLD: ['core.p &= ~FLAG_D;'],
  CLV: ['v = 0;'],
  SEC: ['c = 1;'],
  SED: ['core.p |= FLAG_D;'],
  SEI: ['core.p |= FLAG_I;'],
  DEX: ['nz = x = (x - 1) & 255;'],
  DEY: ['nz = y = (y - 1) & 255;'],
  INX: ['nz = x = (x + 1) & 255;'],
  INY: ['nz = y = (y + 1) & 255;'],
  TAX: ['nz = x = a;'],
  TAY: ['nz = y = a;'],
  TSX: ['nz = x = s;'],
  TXA: ['nz = a = x;'],
  TXS: ['s = x;'],
  TYA: ['nz = a = y;'],
  NOP: [],
};

/** When a branch is taken. */
export const BRANCH_TEXTS: Partial<Readonly<Record<Mnemonic, string>>> = {
  BPL: '(nz & 384) === 0',
  BMI: '(nz & 384) !== 0',
  BVC: 'v === 0',
  BVS: 'v !== 0',
  BCC: 'c === 0',
  BCS: 'c !== 0',
  BNE: '(nz & 255) !== 0',
  BEQ: '(nz & 255) === 0',
};
