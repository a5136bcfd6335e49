import { LatelightError } from '../errors/latelight-error.ts';

/**
 * The instruction set of the console as one table: the processor, the assembler, the listing and the tests read it.
 *
 * Source: hardware documentation wiki, pages "CPU unofficial opcodes" and "Programming with unofficial opcodes" (names,
 * modes and cycles of the undocumented opcodes); the documented ones stand like this in every published 6502 matrix.
 * Checked against: an open set of single-step vectors, test/console/single-step-vectors.test.ts.
 */

/** Every mnemonic, by the way in which its instructions use the bus. */
// biome-ignore format: one row a kind
const MNEMONICS = {
  none: ['CLC', 'CLD', 'CLI', 'CLV', 'DEX', 'DEY', 'INX', 'INY', 'SEC', 'SED', 'SEI', 'TAX', 'TAY', 'TSX', 'TXA', 'TXS', 'TYA'],
  read: ['ADC', 'AND', 'BIT', 'CMP', 'CPX', 'CPY', 'EOR', 'LDA', 'LDX', 'LDY', 'NOP', 'ORA', 'SBC', 'ALR', 'ANC', 'ANE', 'ARR', 'LAS', 'LAX', 'LXA', 'SBX'],
  write: ['STA', 'STX', 'STY', 'SAX', 'SHA', 'SHX', 'SHY', 'TAS'],
  rmw: ['ASL', 'DEC', 'INC', 'LSR', 'ROL', 'ROR', 'DCP', 'ISC', 'RLA', 'RRA', 'SLO', 'SRE'],
  branch: ['BCC', 'BCS', 'BEQ', 'BMI', 'BNE', 'BPL', 'BVC', 'BVS'],
  sequence: ['BRK', 'JMP', 'JSR', 'PHA', 'PHP', 'PLA', 'PLP', 'RTI', 'RTS', 'JAM'],
} as const;

/**
 * How an instruction uses the bus: `none` = only its own bytes; `read`, `write`, `rmw` = one operand (an immediate one
 * included); `branch`; `sequence` = a bus sequence of its own (stack, jumps, BRK, JAM).
 */
type Access = keyof typeof MNEMONICS;

export type Mnemonic = (typeof MNEMONICS)[Access][number];

/** Mode codes of the matrix below, with the published names of the modes. */
const MODES = {
  A: 'accumulator',
  '#': 'immediate',
  r: 'relative',
  z: 'zeroPage',
  zx: 'zeroPageX',
  zy: 'zeroPageY',
  a: 'absolute',
  ax: 'absoluteX',
  ay: 'absoluteY',
  ind: 'indirect',
  ix: 'indexedIndirect', // ($12,X)
  iy: 'indirectIndexed', // ($12),Y
} as const;

export type AddressMode = 'implied' | (typeof MODES)[keyof typeof MODES];

/** Bytes that follow the opcode. BRK is implied and still skips one byte when it returns. */
export const OPERAND_BYTES: Readonly<Record<AddressMode, number>> = {
  implied: 0,
  accumulator: 0,
  immediate: 1,
  relative: 1,
  zeroPage: 1,
  zeroPageX: 1,
  zeroPageY: 1,
  indexedIndirect: 1,
  indirectIndexed: 1,
  absolute: 2,
  absoluteX: 2,
  absoluteY: 2,
  indirect: 2,
};

export interface OpcodeSpec {
  readonly opcode: number;
  readonly mnemonic: Mnemonic;
  readonly mode: AddressMode;
  readonly access: Access;
  /** Cycles without additions. A branch takes 1 more when taken, 2 more when taken into another page. JAM never ends. */
  readonly cycles: number;
  /** One more cycle when the index carries into the high byte of the address. */
  readonly pageCross: boolean;
  readonly documented: boolean;
}

/**
 * Row = high nibble, column = low nibble of the opcode. A cell is mnemonic, mode, cycles; `*` marks an undocumented
 * opcode, `p` one more cycle on a page cross, `b` a branch. JAM: the three bus cycles before it idles for ever.
 */
//      x0         x1          x2        x3          x4         x5         x6         x7         x8      x9          xA        xB          xC          xD          xE          xF
const MATRIX = `
0x | BRK 7    | ORA ix 6  |*JAM 3   |*SLO ix 8  |*NOP z 3  | ORA z 3  | ASL z 5  |*SLO z 5  | PHP 3 | ORA # 2   | ASL A 2 |*ANC # 2   |*NOP a 4   | ORA a 4   | ASL a 6   |*SLO a 6
1x | BPL r 2b | ORA iy 5p |*JAM 3   |*SLO iy 8  |*NOP zx 4 | ORA zx 4 | ASL zx 6 |*SLO zx 6 | CLC 2 | ORA ay 4p |*NOP 2   |*SLO ay 7  |*NOP ax 4p | ORA ax 4p | ASL ax 7  |*SLO ax 7
2x | JSR a 6  | AND ix 6  |*JAM 3   |*RLA ix 8  | BIT z 3  | AND z 3  | ROL z 5  |*RLA z 5  | PLP 4 | AND # 2   | ROL A 2 |*ANC # 2   | BIT a 4   | AND a 4   | ROL a 6   |*RLA a 6
3x | BMI r 2b | AND iy 5p |*JAM 3   |*RLA iy 8  |*NOP zx 4 | AND zx 4 | ROL zx 6 |*RLA zx 6 | SEC 2 | AND ay 4p |*NOP 2   |*RLA ay 7  |*NOP ax 4p | AND ax 4p | ROL ax 7  |*RLA ax 7
4x | RTI 6    | EOR ix 6  |*JAM 3   |*SRE ix 8  |*NOP z 3  | EOR z 3  | LSR z 5  |*SRE z 5  | PHA 3 | EOR # 2   | LSR A 2 |*ALR # 2   | JMP a 3   | EOR a 4   | LSR a 6   |*SRE a 6
5x | BVC r 2b | EOR iy 5p |*JAM 3   |*SRE iy 8  |*NOP zx 4 | EOR zx 4 | LSR zx 6 |*SRE zx 6 | CLI 2 | EOR ay 4p |*NOP 2   |*SRE ay 7  |*NOP ax 4p | EOR ax 4p | LSR ax 7  |*SRE ax 7
6x | RTS 6    | ADC ix 6  |*JAM 3   |*RRA ix 8  |*NOP z 3  | ADC z 3  | ROR z 5  |*RRA z 5  | PLA 4 | ADC # 2   | ROR A 2 |*ARR # 2   | JMP ind 5 | ADC a 4   | ROR a 6   |*RRA a 6
7x | BVS r 2b | ADC iy 5p |*JAM 3   |*RRA iy 8  |*NOP zx 4 | ADC zx 4 | ROR zx 6 |*RRA zx 6 | SEI 2 | ADC ay 4p |*NOP 2   |*RRA ay 7  |*NOP ax 4p | ADC ax 4p | ROR ax 7  |*RRA ax 7
8x |*NOP # 2  | STA ix 6  |*NOP # 2 |*SAX ix 6  | STY z 3  | STA z 3  | STX z 3  |*SAX z 3  | DEY 2 |*NOP # 2   | TXA 2   |*ANE # 2   | STY a 4   | STA a 4   | STX a 4   |*SAX a 4
9x | BCC r 2b | STA iy 6  |*JAM 3   |*SHA iy 6  | STY zx 4 | STA zx 4 | STX zy 4 |*SAX zy 4 | TYA 2 | STA ay 5  | TXS 2   |*TAS ay 5  |*SHY ax 5  | STA ax 5  |*SHX ay 5  |*SHA ay 5
Ax | LDY # 2  | LDA ix 6  | LDX # 2 |*LAX ix 6  | LDY z 3  | LDA z 3  | LDX z 3  |*LAX z 3  | TAY 2 | LDA # 2   | TAX 2   |*LXA # 2   | LDY a 4   | LDA a 4   | LDX a 4   |*LAX a 4
Bx | BCS r 2b | LDA iy 5p |*JAM 3   |*LAX iy 5p | LDY zx 4 | LDA zx 4 | LDX zy 4 |*LAX zy 4 | CLV 2 | LDA ay 4p | TSX 2   |*LAS ay 4p | LDY ax 4p | LDA ax 4p | LDX ay 4p |*LAX ay 4p
Cx | CPY # 2  | CMP ix 6  |*NOP # 2 |*DCP ix 8  | CPY z 3  | CMP z 3  | DEC z 5  |*DCP z 5  | INY 2 | CMP # 2   | DEX 2   |*SBX # 2   | CPY a 4   | CMP a 4   | DEC a 6   |*DCP a 6
Dx | BNE r 2b | CMP iy 5p |*JAM 3   |*DCP iy 8  |*NOP zx 4 | CMP zx 4 | DEC zx 6 |*DCP zx 6 | CLD 2 | CMP ay 4p |*NOP 2   |*DCP ay 7  |*NOP ax 4p | CMP ax 4p | DEC ax 7  |*DCP ax 7
Ex | CPX # 2  | SBC ix 6  |*NOP # 2 |*ISC ix 8  | CPX z 3  | SBC z 3  | INC z 5  |*ISC z 5  | INX 2 | SBC # 2   | NOP 2   |*SBC # 2   | CPX a 4   | SBC a 4   | INC a 6   |*ISC a 6
Fx | BEQ r 2b | SBC iy 5p |*JAM 3   |*ISC iy 8  |*NOP zx 4 | SBC zx 4 | INC zx 6 |*ISC zx 6 | SED 2 | SBC ay 4p |*NOP 2   |*ISC ay 7  |*NOP ax 4p | SBC ax 4p | INC ax 7  |*ISC ax 7`;

/** All 256 opcodes; the index is the opcode. */
export const OPCODES: readonly OpcodeSpec[] = MATRIX.trim()
  .split('\n')
  .flatMap((row) => row.split('|').slice(1))
  .map(parseCell);

function parseCell(cell: string, opcode: number): OpcodeSpec {
  const parts = /^([ *])([A-Z]{3})(?: (\S+))? (\d)([pb]?)$/.exec(cell.trimEnd());
  const mnemonic = parts?.[2] as Mnemonic;
  const mode = parts?.[3] === undefined ? 'implied' : MODES[parts[3] as keyof typeof MODES];
  if (parts === null || mode === undefined) throw new LatelightError('INTERNAL', { what: `opcode table: "${cell}"` });
  return {
    opcode,
    mnemonic,
    mode,
    access: accessOf(mnemonic, mode),
    cycles: Number(parts[4]),
    pageCross: parts[5] === 'p',
    documented: parts[1] === ' ',
  };
}

function accessOf(mnemonic: Mnemonic, mode: AddressMode): Access {
  if (mode === 'accumulator' || (mnemonic === 'NOP' && mode === 'implied')) return 'none';
  const access = (Object.keys(MNEMONICS) as Access[]).find((key) =>
    (MNEMONICS[key] as readonly Mnemonic[]).includes(mnemonic),
  );
  if (access === undefined) throw new LatelightError('INTERNAL', { what: `opcode table: ${mnemonic} has no access` });
  return access;
}
