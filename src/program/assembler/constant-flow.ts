import type { Mnemonic, OpcodeSpec } from '../../references/opcodes.ts';

/**
 * What is known of the registers while code is followed without being run: enough to count the rounds of delay loops
 * (`ldx #9`, `dex`, `bne`) and page crossings of known indexes. -1 = not known.
 */
export interface KnownRegisters {
  readonly a: number;
  readonly x: number;
  readonly y: number;
  readonly n: number;
  readonly z: number;
  readonly c: number;
  readonly v: number;
}

export const NOTHING_KNOWN: KnownRegisters = { a: -1, x: -1, y: -1, n: -1, z: -1, c: -1, v: -1 };

type Part = keyof KnownRegisters;

/** Parts that an instruction changes in a way that depends on memory or on the stack. */
// biome-ignore format: one row a kind
const CHANGED: Readonly<Partial<Record<Mnemonic, readonly Part[]>>> = {
  STA: [], STX: [], STY: [], SAX: [], SHA: [], SHX: [], SHY: [], TAS: [], PHA: [], PHP: [], NOP: [], TXS: [],
  CLD: [], SED: [], CLI: [], SEI: [], JMP: [], JSR: [], RTS: [],
  BCC: [], BCS: [], BEQ: [], BMI: [], BNE: [], BPL: [], BVC: [], BVS: [],
  LDA: ['a', 'n', 'z'], LDX: ['x', 'n', 'z'], LDY: ['y', 'n', 'z'], LAX: ['a', 'x', 'n', 'z'], PLA: ['a', 'n', 'z'], TSX: ['x', 'n', 'z'],
  AND: ['a', 'n', 'z'], ORA: ['a', 'n', 'z'], EOR: ['a', 'n', 'z'], ADC: ['a', 'n', 'z', 'c', 'v'], SBC: ['a', 'n', 'z', 'c', 'v'],
  CMP: ['n', 'z', 'c'], CPX: ['n', 'z', 'c'], CPY: ['n', 'z', 'c'], DCP: ['n', 'z', 'c'], BIT: ['n', 'z', 'v'],
  INC: ['n', 'z'], DEC: ['n', 'z'], ASL: ['n', 'z', 'c'], LSR: ['n', 'z', 'c'], ROL: ['n', 'z', 'c'], ROR: ['n', 'z', 'c'],
  PLP: ['n', 'z', 'c', 'v'],
};

/** The registers after an instruction. `operand` = the byte behind the opcode. */
export function follow({ mnemonic, mode }: OpcodeSpec, operand: number, known: KnownRegisters): KnownRegisters {
  const exact =
    mode === 'immediate'
      ? withNumber(mnemonic, operand, known)
      : withRegisters(mnemonic, mode === 'accumulator', known);
  if (exact !== undefined) return exact;
  const changed = CHANGED[mnemonic];
  if (changed === undefined) return NOTHING_KNOWN;
  const accumulator = mode === 'accumulator' ? { a: -1 } : {};
  return { ...known, ...Object.fromEntries(changed.map((part) => [part, -1])), ...accumulator };
}

/** Whether a branch is taken: 1, 0, or -1 when its flag is not known. */
export function isTaken(mnemonic: Mnemonic, known: KnownRegisters): number {
  const [flag, wanted] = CONDITIONS[mnemonic] ?? ['n', 1];
  return known[flag] === -1 ? -1 : Number(known[flag] === wanted);
}

/** What a branch tells of its flag. */
export function afterBranch(mnemonic: Mnemonic, taken: boolean, known: KnownRegisters): KnownRegisters {
  const condition = CONDITIONS[mnemonic];
  if (condition === undefined) return known;
  const [flag, wanted] = condition;
  return { ...known, [flag]: taken ? wanted : 1 - wanted };
}

const CONDITIONS: Readonly<Partial<Record<Mnemonic, readonly [Part, number]>>> = {
  BPL: ['n', 0],
  BMI: ['n', 1],
  BVC: ['v', 0],
  BVS: ['v', 1],
  BCC: ['c', 0],
  BCS: ['c', 1],
  BNE: ['z', 0],
  BEQ: ['z', 1],
};

const nz = (value: number): { n: number; z: number } => ({
  n: value === -1 ? -1 : value >> 7,
  z: value === -1 ? -1 : Number(value === 0),
});

/** Instructions with a number behind "#"; undefined when the result is not known. */
function withNumber(mnemonic: Mnemonic, number: number, known: KnownRegisters): KnownRegisters | undefined {
  const { a, x, y } = known;
  switch (mnemonic) {
    case 'LDA':
      return { ...known, a: number, ...nz(number) };
    case 'LDX':
      return { ...known, x: number, ...nz(number) };
    case 'LDY':
      return { ...known, y: number, ...nz(number) };
    case 'CMP':
      return compared(a, number, known);
    case 'CPX':
      return compared(x, number, known);
    case 'CPY':
      return compared(y, number, known);
    case 'AND':
      return a === -1 ? undefined : { ...known, a: a & number, ...nz(a & number) };
    case 'ORA':
      return a === -1 ? undefined : { ...known, a: a | number, ...nz(a | number) };
    case 'EOR':
      return a === -1 ? undefined : { ...known, a: a ^ number, ...nz(a ^ number) };
    case 'ADC':
      return added(number, known);
    case 'SBC':
      return added(number ^ 0xff, known);
    default:
      return undefined;
  }
}

function compared(register: number, number: number, known: KnownRegisters): KnownRegisters | undefined {
  if (register === -1) return undefined;
  return { ...known, ...nz((register - number) & 0xff), c: Number(register >= number) };
}

/** Binary addition: the console's processor has no decimal mode. */
function added(number: number, known: KnownRegisters): KnownRegisters | undefined {
  const { a, c } = known;
  if (a === -1 || c === -1) return undefined;
  const sum = a + number + c;
  const result = sum & 0xff;
  return { ...known, a: result, ...nz(result), c: sum >> 8, v: ((a ^ result) & (number ^ result)) >> 7 };
}

/** Instructions that use registers only; undefined for all others. */
function withRegisters(mnemonic: Mnemonic, isAccumulator: boolean, known: KnownRegisters): KnownRegisters | undefined {
  const { a, x, y } = known;
  switch (mnemonic) {
    case 'TAX':
      return { ...known, x: a, ...nz(a) };
    case 'TAY':
      return { ...known, y: a, ...nz(a) };
    case 'TXA':
      return { ...known, a: x, ...nz(x) };
    case 'TYA':
      return { ...known, a: y, ...nz(y) };
    case 'INX':
      return stepped('x', x, 1, known);
    case 'DEX':
      return stepped('x', x, -1, known);
    case 'INY':
      return stepped('y', y, 1, known);
    case 'DEY':
      return stepped('y', y, -1, known);
    case 'CLC':
      return { ...known, c: 0 };
    case 'SEC':
      return { ...known, c: 1 };
    case 'CLV':
      return { ...known, v: 0 };
    default:
      return isAccumulator ? shifted(mnemonic, known) : undefined;
  }
}

function stepped(part: 'x' | 'y', value: number, step: number, known: KnownRegisters): KnownRegisters {
  const result = value === -1 ? -1 : (value + step) & 0xff;
  return { ...known, [part]: result, ...nz(result) };
}

function shifted(mnemonic: Mnemonic, known: KnownRegisters): KnownRegisters | undefined {
  const { a, c } = known;
  const needsCarry = mnemonic === 'ROL' || mnemonic === 'ROR';
  if (a === -1 || (needsCarry && c === -1)) return undefined;
  const isLeft = mnemonic === 'ASL' || mnemonic === 'ROL';
  const carry = needsCarry ? c : 0;
  const result = isLeft ? ((a << 1) | carry) & 0xff : (a >> 1) | (carry << 7);
  return { ...known, a: result, ...nz(result), c: isLeft ? a >> 7 : a & 1 };
}
