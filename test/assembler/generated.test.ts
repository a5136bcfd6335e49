import { beforeAll, expect, it } from 'vitest';
import { describeWith } from '../needs.ts';
import { assembleOutside, assembleText, difference } from './outside.ts';
import { generatePiece, POSTLUDE, PRELUDE, withoutLines } from './source-generator.ts';

const PROGRAMS = 5000;
const FIRST_SEED = 1;
/** Programs in one file: each file costs two processes. */
const TOGETHER = 50;
/** Our assembler may refuse this share of what is generated: a pointer across a page, a number that does not fit. */
const MOST_REFUSED = 0.5;

const fileOf = (pieces: readonly string[]): string => PRELUDE + pieces.join('') + POSTLUDE;
const isTaken = (piece: string): boolean => assembleText(fileOf([piece])).image !== null;

/** Leave out the programs that are wrong only where they stand in the file, for instance a pointer at the end of a page. */
function withoutErrors(pieces: readonly string[]): string[] {
  const { errors } = assembleText(fileOf(pieces));
  if (errors.length === 0) return [...pieces];
  return withoutErrors(withoutLines(pieces, new Set(errors.map(({ line }) => line))));
}

/** Files of programs that our assembler takes, `PROGRAMS` or a few more in all. */
function makeFiles(): { readonly files: string[]; readonly count: number; readonly tried: number } {
  const files: string[] = [];
  let [count, tried] = [0, 0];
  while (count < PROGRAMS) {
    const pieces: string[] = [];
    for (; pieces.length < TOGETHER; tried++) {
      const piece = generatePiece(FIRST_SEED + tried);
      if (isTaken(piece)) pieces.push(piece);
    }
    const good = withoutErrors(pieces);
    files.push(fileOf(good));
    count += good.length;
  }
  return { files, count, tried };
}

describeWith(['ca65', 'ld65'], 'generated programs against ca65 and ld65', () => {
  let made: ReturnType<typeof makeFiles> = { files: [], count: 0, tried: 0 };

  beforeAll(() => {
    made = makeFiles();
  }, 120_000);

  it(`${PROGRAMS} programs from seed ${FIRST_SEED} make the same bytes, ${TOGETHER} in a file`, () => {
    const wrong = assembleOutside(made.files).flatMap(({ image, messages }, i) => {
      const ours = assembleText(made.files[i]!).image;
      const found = image === null ? messages.slice(-300) : difference(image, ours ?? new Uint8Array());
      return found === '' ? [] : [`file ${i}: ${found}`];
    });
    expect(wrong).toEqual([]);
    expect(made.count).toBeGreaterThanOrEqual(PROGRAMS);
  });

  it('most of what is generated is taken', () => {
    expect(1 - made.count / made.tried).toBeLessThan(MOST_REFUSED);
  });

  it('what is refused alone is refused by ca65 or ld65, or goes beyond the numbers that are kept exactly', () => {
    const refused = Array.from({ length: 200 }, (_, i) => fileOf([generatePiece(FIRST_SEED + i)]))
      .map((source) => ({ source, errors: assembleText(source).errors }))
      .filter(
        ({ errors }) =>
          errors.length > 0 && errors.every(({ code }) => code !== 'ASM_RESULT_LARGE' && code !== 'ASM_SHIFT'),
      );
    const outside = assembleOutside(refused.map(({ source }) => source));
    expect(refused.length).toBeGreaterThan(0);
    expect(refused.filter((_, i) => outside[i]!.image !== null).map(({ errors }) => errors[0]!.message)).toEqual([]);
  });
});
