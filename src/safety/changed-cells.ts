import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../units/timing.ts';

/**
 * Mark the square cells of `cellDots` dots in which two pictures differ: `changed[cell]` 1 or 0. Answers how many do. Four
 * codes are compared at a time: as one number of 64 bits, which no code makes a NaN.
 */
export function markChangedCells(
  before: Uint16Array,
  after: Uint16Array,
  cellDots: number,
  changed: Uint8Array,
): number {
  changed.fill(0);
  const isAligned = before.byteOffset % 8 === 0 && after.byteOffset % 8 === 0;
  if (cellDots === 8 && isAligned) markEights(fours(before), fours(after), changed);
  else if (cellDots % 4 === 0 && isAligned)
    mark(fours(before), fours(after), PICTURE_WIDTH / 4, cellDots / 4, cellDots, changed);
  else mark(before, after, PICTURE_WIDTH, cellDots, cellDots, changed);
  let count = 0;
  for (let cell = 0; cell < changed.length; cell++) count += changed[cell]!;
  return count;
}

/** Whether two pictures are the same, dot by dot. */
export function areSamePictures(one: Uint16Array, other: Uint16Array): boolean {
  const isAligned = one.byteOffset % 8 === 0 && other.byteOffset % 8 === 0;
  const [a, b] = isAligned ? [fours(one), fours(other)] : [one, other];
  for (let at = 0; at < a.length; at++) if (a[at] !== b[at]) return false;
  return true;
}

const fours = (codes: Uint16Array): Float64Array =>
  new Float64Array(codes.buffer as ArrayBuffer, codes.byteOffset, codes.length / 4);

/** The usual cells of 8 dots: two numbers of each line, without a loop of their own. */
function markEights(before: Float64Array, after: Float64Array, changed: Uint8Array): void {
  const columns = PICTURE_WIDTH / 8;
  for (let first = 0, at = 0; first < changed.length; first += columns)
    for (let line = 0; line < 8; line++)
      for (let cell = first; cell < first + columns; cell++, at += 2)
        if (before[at] !== after[at] || before[at + 1] !== after[at + 1]) changed[cell] = 1;
}

/** Numbers of a line, and of a cell's part of it. */
function mark(
  before: Uint16Array | Float64Array,
  after: Uint16Array | Float64Array,
  perLine: number,
  perCell: number,
  cellDots: number,
  changed: Uint8Array,
): void {
  const columns = perLine / perCell;
  for (let y = 0; y < PICTURE_HEIGHT; y++) {
    let at = y * perLine;
    const first = Math.floor(y / cellDots) * columns;
    for (let cell = first; cell < first + columns; cell++, at += perCell)
      for (let one = at; one < at + perCell; one++) if (before[one] !== after[one]) changed[cell] = 1;
  }
}
