import { programOf } from '../console/machine.ts';
import { encodeLines, type Line, type Operand } from '../console/program-lines.ts';
import { Lot } from './lot.ts';

const RESET = 0;
const WARM = 1;
const PALETTE_LOOP = 2;
const TABLE_LOOP = 3;
const SPRITE_LOOP = 4;
const MAIN = 5;
const MOVE_LOOP = 6;
const HIT_LOOP = 7;
const SPLIT = 8;
const BAR_LOOP = 9;
const NMI = 10;
const DATA = 11;
const REGISTER_LOOP = 12;
const NO_JUMP = 13;
const CLEAR_LOOP = 14;

const mark = (label: number): Line => ({ kind: 'label', label });
const op = (opcode: number, operand: Operand = 0): Line => ({ kind: 'code', opcode, operand });
const store = (address: number, value: number): Line[] => [op(0xa9, value), op(0x8d, address)];
const label = (number: number): Operand => ({ label: number });

/**
 * A game as far as the raster unit is concerned: waits on PPUSTATUS, sprite DMA and table writes in the handler, moving
 * sprites, a split below sprite 0 by polling for its hit, a coloured bar timed by a loop, an address jump in mid-picture
 * now and then, forced dark at the bottom. RAM: $00 frame flag, $01 frame counter, $0200 sprites.
 */
const LINES: readonly Line[] = [
  mark(RESET),
  op(0x78), // SEI
  op(0xa2, 0xff), // LDX
  op(0x9a), // TXS
  mark(WARM),
  op(0x2c, 0x2002), // BIT
  op(0x10, label(WARM)), // BPL
  op(0xe8), // INX: 255 -> 0 -> 1
  op(0xf0, label(WARM)), // BEQ
  ...store(0x2006, 0x3f),
  ...store(0x2006, 0x00),
  op(0xa2, 0), // LDX
  mark(PALETTE_LOOP),
  op(0xbd, label(DATA)), // LDA abs,X
  op(0x8d, 0x2007), // STA
  op(0xe8), // INX
  op(0xe0, 32), // CPX
  op(0xd0, label(PALETTE_LOOP)), // BNE
  ...store(0x2006, 0x20),
  ...store(0x2006, 0x00),
  op(0xa0, 8), // LDY
  mark(TABLE_LOOP),
  op(0xbd, label(DATA)), // LDA abs,X
  op(0x8d, 0x2007), // STA
  op(0xe8), // INX
  op(0xd0, label(TABLE_LOOP)), // BNE
  op(0x88), // DEY
  op(0xd0, label(TABLE_LOOP)), // BNE
  mark(SPRITE_LOOP),
  op(0xbd, label(DATA)), // LDA abs,X
  op(0x9d, 0x0200), // STA abs,X
  op(0xe8), // INX
  op(0xd0, label(SPRITE_LOOP)), // BNE
  ...store(0x0200, 40),
  ...store(0x0203, 100),
  ...store(0x2000, 0x90),
  ...store(0x2001, 0x1e),
  mark(MAIN),
  op(0xa5, 0x00), // LDA zp
  op(0xf0, label(MAIN)), // BEQ
  op(0xa9, 0), // LDA
  op(0x85, 0x00), // STA zp
  op(0xa2, 4), // LDX
  mark(MOVE_LOOP),
  op(0xfe, 0x0203), // INC abs,X
  op(0xfe, 0x0200), // INC abs,X
  op(0x8a), // TXA
  op(0x18), // CLC
  op(0x69, 28), // ADC
  op(0xaa), // TAX
  op(0xe0, 4), // CPX
  op(0xd0, label(MOVE_LOOP)), // BNE
  mark(CLEAR_LOOP),
  op(0x2c, 0x2002), // BIT
  op(0x70, label(CLEAR_LOOP)), // BVS
  mark(HIT_LOOP),
  op(0xad, 0x2002), // LDA
  op(0x30, label(MAIN)), // BMI
  op(0x29, 0x40), // AND
  op(0xf0, label(HIT_LOOP)), // BEQ
  mark(SPLIT),
  op(0xa5, 0x01), // LDA zp
  op(0x8d, 0x2005), // STA
  op(0x8d, 0x2005), // STA
  op(0x29, 7), // AND
  op(0xd0, label(NO_JUMP)), // BNE
  ...store(0x2006, 0x08),
  ...store(0x2006, 0x4a),
  mark(NO_JUMP),
  ...store(0x2001, 0x7e),
  op(0xa2, 200), // LDX
  mark(BAR_LOOP),
  op(0xca), // DEX
  op(0xd0, label(BAR_LOOP)), // BNE
  ...store(0x2001, 0x1f),
  op(0xa2, 0), // LDX
  mark(REGISTER_LOOP),
  op(0xad, 0x2002), // LDA
  op(0xad, 0x2004), // LDA
  op(0x86, 0x03), // STX zp
  op(0xca), // DEX
  op(0xd0, label(REGISTER_LOOP)), // BNE
  ...store(0x2001, 0x06),
  ...store(0x2007, 0x33),
  op(0x4c, label(MAIN)), // JMP
  mark(NMI),
  op(0x48), // PHA
  op(0xad, 0x2002), // LDA
  ...store(0x2003, 0x00),
  ...store(0x4014, 0x02),
  ...store(0x2006, 0x21),
  op(0xa5, 0x01), // LDA zp
  op(0x8d, 0x2006), // STA
  op(0x8d, 0x2007), // STA
  op(0x8d, 0x2007), // STA
  op(0xad, 0x2007), // LDA
  op(0xa9, 0x00), // LDA
  op(0x8d, 0x2006), // STA
  op(0x8d, 0x2006), // STA
  ...store(0x2005, 0x00),
  ...store(0x2005, 0x00),
  ...store(0x2000, 0x90),
  ...store(0x2001, 0x1e),
  op(0xe6, 0x01), // INC zp
  op(0xa9, 1), // LDA
  op(0x85, 0x00), // STA zp
  op(0x68), // PLA
  op(0x40), // RTI
];

/** The image file, its pattern ROM and data drawn by lot. */
export function splitProgram(seed: number): Uint8Array {
  const lot = new Lot(seed);
  const memory = new Uint8Array(0x10000);
  const code = LINES.concat({ kind: 'word', label: NMI }, mark(DATA));
  if (!encodeLines(code, 0x8000, 0x8400, memory)) throw new Error('the program does not fit its pages');
  const dataAt = memory.lastIndexOf(0x40) + 3;
  const nmi = memory[dataAt - 2]! | (memory[dataAt - 1]! << 8);
  memory.set(lot.bytes(256), dataAt);
  const image = programOf({ 32768: [...memory.subarray(0x8000, 0x8800)] }, { nmi });
  image.set(lot.bytes(8192), image.length - 8192);
  return image;
}
