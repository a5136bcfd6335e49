/** Bytes of sprite memory, and of the secondary memory that holds one line's eight sprites. */
export const OAM_BYTES = 256;
const SECONDARY_BYTES = 32;

/**
 * The search through sprite memory for the sprites of the next line: dots 1..64 clear the secondary memory, dots 65..256
 * read on odd dots and write on even ones.
 * Source: hardware documentation wiki, "PPU sprite evaluation" and "PPU OAM".
 */
export interface EvaluationState {
  readonly secondary: Uint8Array;
  /** Byte of sprite memory to read next: entry in bits 7..2, byte of the entry in bits 1..0. */
  address: number;
  /** Bytes of the secondary memory that are taken; 32 = full, the search for a ninth sprite is on. */
  filled: number;
  /** Bytes of an entry in range that are still to be copied (or, when full, to be read over). */
  bytesLeft: number;
  /** The byte read last. */
  bus: number;
  /** No entry has been judged on this line yet. */
  isFirst: boolean;
  /** The entry judged first (entry 0, as a rule) is in range and so stands first in the secondary memory. */
  isZeroFound: boolean;
  /** All entries have been judged. */
  isDone: boolean;
}

export const newEvaluationState = (): EvaluationState => ({
  secondary: new Uint8Array(SECONDARY_BYTES).fill(0xff),
  address: 0,
  filled: 0,
  bytesLeft: 0,
  bus: 0xff,
  isFirst: true,
  isZeroFound: false,
  isDone: true,
});

/** Dots 2, 4 .. 64. */
export function clearSecondaryByte(e: EvaluationState, dot: number): void {
  e.secondary[(dot >> 1) - 1] = 0xff;
}

/** Before the first read, at dot 65: the search starts where the sprite address stands. */
export function beginEvaluation(e: EvaluationState, oamAddress: number): void {
  e.address = oamAddress;
  e.filled = 0;
  e.bytesLeft = 0;
  e.isFirst = true;
  e.isZeroFound = false;
  e.isDone = false;
}

/** Odd dots 65 .. 255. */
export function readEvaluationByte(e: EvaluationState, oam: Uint8Array): void {
  e.bus = oam[e.address]!;
}

/**
 * Even dots 66 .. 256: judge or copy the byte just read. True when it is the first coordinate of a ninth sprite, right
 * or wrong: once full, the search steps diagonally through entries and bytes.
 */
export function judgeEvaluationByte(e: EvaluationState, line: number, height: number): boolean {
  if (e.isDone) {
    e.address = (e.address + 4) & 0xfc;
    return false;
  }
  const isFull = e.filled === SECONDARY_BYTES;
  if (!isFull) e.secondary[e.filled] = e.bus;
  const isStart = e.bytesLeft === 0 && line >= e.bus && line - e.bus < height;
  if (isStart || e.bytesLeft > 0) {
    takeByte(e, isStart, isFull);
  } else if (isFull) {
    moveTo(e, ((e.address & 0xfc) + 4) | ((e.address + 1) & 3));
  } else {
    moveTo(e, e.address + 4);
  }
  e.isFirst = false;
  return isStart && isFull;
}

function takeByte(e: EvaluationState, isStart: boolean, isFull: boolean): void {
  e.bytesLeft = isStart ? 3 : e.bytesLeft - 1;
  if (isStart && e.isFirst) e.isZeroFound = true;
  if (!isFull) e.filled++;
  moveTo(e, e.address + 1);
}

/** Past the last entry the search is over; an entry that starts off the grid is cut there (assumed). */
function moveTo(e: EvaluationState, address: number): void {
  e.address = address & 0xff;
  if (address > 0xff) e.isDone = true;
}
