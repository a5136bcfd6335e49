import { assembleText } from './outside.ts';
import { generatePiece, POSTLUDE, PRELUDE, withoutLines } from './source-generator.ts';

/** Bytes of code and data: some 10,000 lines, for the generated pieces hold many lines without bytes. */
const WANTED_BYTES = 14_000;
const FIRST_SEED = 100_001;

/** A program of generated pieces that fills half of the program ROM; the same on every call. */
export function largeProgram(): string {
  let pieces: string[] = [];
  let bytes = 0;
  for (let seed = FIRST_SEED; bytes < WANTED_BYTES; seed++) {
    const piece = generatePiece(seed);
    const { image, segments } = assembleText(PRELUDE + piece + POSTLUDE);
    if (image === null) continue;
    pieces.push(piece);
    bytes += segments
      .filter(({ name }) => name === 'CODE' || name === 'RODATA')
      .reduce((sum, { length }) => sum + length, 0);
  }
  for (;;) {
    const source = PRELUDE + pieces.join('') + POSTLUDE;
    const { errors } = assembleText(source);
    if (errors.length === 0) return source;
    pieces = withoutLines(pieces, new Set(errors.map(({ line }) => line)));
  }
}
