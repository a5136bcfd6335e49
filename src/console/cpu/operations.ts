import type { Mnemonic } from '../../references/opcodes.ts';
import {
  addWithCarry,
  compare,
  FLAG_C,
  FLAG_D,
  FLAG_I,
  FLAG_N,
  FLAG_V,
  FLAG_Z,
  type Registers,
  setCarry,
  setNZ,
  setOverflow,
} from './flags.ts';

/**
 * What the instructions do to registers and flags once the operand is there; no bus here.
 * Source of the undocumented ones: hardware documentation wiki, page "Programming with unofficial opcodes".
 */
type OperationTable<Operation> = Partial<Readonly<Record<Mnemonic, Operation>>>;

/**
 * ANE and LXA put A on an internal bus that leaks; the parts differ ($00, $EE, $EF and $FF have been seen, from memory).
 * $EE is the only value that fits the open single-step vectors.
 */
const UNSTABLE_MAGIC = 0xee;

function loadA(r: Registers, value: number): void {
  r.a = value;
  setNZ(r, value);
}

function loadX(r: Registers, value: number): void {
  r.x = value;
  setNZ(r, value);
}

function loadY(r: Registers, value: number): void {
  r.y = value;
  setNZ(r, value);
}

const and = (r: Registers, value: number): void => loadA(r, r.a & value);
const subtract = (r: Registers, value: number): void => addWithCarry(r, value ^ 0xff);

function bit(r: Registers, value: number): void {
  r.p = (r.p & ~(FLAG_N | FLAG_V | FLAG_Z)) | (value & (FLAG_N | FLAG_V)) | ((r.a & value) === 0 ? FLAG_Z : 0);
}

function andRotate(r: Registers, value: number): void {
  loadA(r, ((r.a & value) >> 1) | ((r.p & FLAG_C) << 7));
  setCarry(r, (r.a & 0x40) !== 0);
  setOverflow(r, ((r.a ^ (r.a << 1)) & 0x40) !== 0);
}

/** Operations on a byte that was read. */
export const READ_OPERATIONS: OperationTable<(r: Registers, value: number) => void> = {
  ADC: addWithCarry,
  AND: and,
  BIT: bit,
  CMP: (r, value) => compare(r, r.a, value),
  CPX: (r, value) => compare(r, r.x, value),
  CPY: (r, value) => compare(r, r.y, value),
  EOR: (r, value) => loadA(r, r.a ^ value),
  LDA: loadA,
  LDX: loadX,
  LDY: loadY,
  NOP: () => {},
  ORA: (r, value) => loadA(r, r.a | value),
  SBC: subtract,
  ALR: (r, value) => {
    r.a = shiftRight(r, r.a & value);
  },
  ANC: (r, value) => {
    and(r, value);
    setCarry(r, (r.a & 0x80) !== 0);
  },
  ANE: (r, value) => loadA(r, (r.a | UNSTABLE_MAGIC) & r.x & value),
  ARR: andRotate,
  LAS: (r, value) => {
    r.s &= value;
    r.x = r.s;
    loadA(r, r.s);
  },
  LAX: (r, value) => {
    r.x = value;
    loadA(r, value);
  },
  LXA: (r, value) => {
    r.x = (r.a | UNSTABLE_MAGIC) & value;
    loadA(r, r.x);
  },
  SBX: (r, value) => {
    const masked = r.a & r.x;
    compare(r, masked, value);
    r.x = (masked - value) & 0xff;
  },
};

/** The byte that a store writes. SHA, SHX, SHY and TAS stand in unstable-stores.ts. */
export const WRITE_OPERATIONS: OperationTable<(r: Registers) => number> = {
  STA: (r) => r.a,
  STX: (r) => r.x,
  STY: (r) => r.y,
  SAX: (r) => r.a & r.x,
};

function shiftLeft(r: Registers, value: number): number {
  setCarry(r, value > 0x7f);
  return step(r, (value << 1) & 0xff);
}

function shiftRight(r: Registers, value: number): number {
  setCarry(r, (value & 1) !== 0);
  return step(r, value >> 1);
}

function rotateLeft(r: Registers, value: number): number {
  const carryIn = r.p & FLAG_C;
  setCarry(r, value > 0x7f);
  return step(r, ((value << 1) & 0xff) | carryIn);
}

function rotateRight(r: Registers, value: number): number {
  const carryIn = (r.p & FLAG_C) << 7;
  setCarry(r, (value & 1) !== 0);
  return step(r, (value >> 1) | carryIn);
}

/** Flags of a result that goes back to where it came from. */
function step(r: Registers, result: number): number {
  setNZ(r, result);
  return result;
}

/** From the byte that was read to the byte that is written back; for the accumulator forms of the shifts too. */
export const MODIFY_OPERATIONS: OperationTable<(r: Registers, value: number) => number> = {
  ASL: shiftLeft,
  DEC: (r, value) => step(r, (value - 1) & 0xff),
  INC: (r, value) => step(r, (value + 1) & 0xff),
  LSR: shiftRight,
  ROL: rotateLeft,
  ROR: rotateRight,
  DCP: (r, value) => {
    const result = (value - 1) & 0xff;
    compare(r, r.a, result);
    return result;
  },
  ISC: (r, value) => {
    const result = (value + 1) & 0xff;
    subtract(r, result);
    return result;
  },
  RLA: (r, value) => {
    const result = rotateLeft(r, value);
    and(r, result);
    return result;
  },
  RRA: (r, value) => {
    const result = rotateRight(r, value);
    addWithCarry(r, result);
    return result;
  },
  SLO: (r, value) => {
    const result = shiftLeft(r, value);
    loadA(r, r.a | result);
    return result;
  },
  SRE: (r, value) => {
    const result = shiftRight(r, value);
    loadA(r, r.a ^ result);
    return result;
  },
};

function clear(flag: number): (r: Registers) => void {
  return (r) => {
    r.p &= ~flag;
  };
}

function set(flag: number): (r: Registers) => void {
  return (r) => {
    r.p |= flag;
  };
}

/** Instructions without an operand. */
export const IMPLIED_OPERATIONS: OperationTable<(r: Registers) => void> = {
  CLC: clear(FLAG_C),
  CLD: clear(FLAG_D),
  CLI: clear(FLAG_I),
  CLV: clear(FLAG_V),
  SEC: set(FLAG_C),
  SED: set(FLAG_D),
  SEI: set(FLAG_I),
  DEX: (r) => loadX(r, (r.x - 1) & 0xff),
  DEY: (r) => loadY(r, (r.y - 1) & 0xff),
  INX: (r) => loadX(r, (r.x + 1) & 0xff),
  INY: (r) => loadY(r, (r.y + 1) & 0xff),
  TAX: (r) => loadX(r, r.a),
  TAY: (r) => loadY(r, r.a),
  TSX: (r) => loadX(r, r.s),
  TXA: (r) => loadA(r, r.x),
  TXS: (r) => {
    r.s = r.x;
  },
  TYA: (r) => loadA(r, r.y),
  NOP: () => {},
};
