import { beforeAll, describe, expect, test } from 'vitest';
import { runBuilt } from '../run-built.ts';
import { DOTS_BESIDE, type HandName, type HandRow, type Margin } from './hand-table.ts';

/**
 * "Target" said in % of the shots, by margin, hand and dots beside the middle: figures of a small model of screen, sensor and
 * hand (measured with it, not on hardware; 27 inch screen at 2 m).
 */
const MODEL: Readonly<Record<Margin, Partial<Record<HandName, readonly number[]>>>> = {
  0: {
    still: [100, 100, 84, 19, 0, 0],
    braced: [100, 99.5, 76, 22, 0, 0],
    'one-handed': [97.5, 94, 66, 25, 3, 0],
    'one-handed-pull': [85, 73, 52, 30, 12, 3],
  },
  4: {
    still: [100, 100, 100, 97, 33, 0],
    braced: [100, 100, 100, 89, 37, 1],
    'one-handed': [100, 100, 97, 80, 39, 6],
    'one-handed-pull': [99.7, 96, 86, 63, 41, 18],
  },
  8: { still: [100, 100, 100, 100, 98, 50], 'one-handed-pull': [100, 100, 99, 91, 70, 47] },
};
/** Shots of the model a place; not told with it. Assumed: its figures are multiples of half a per cent. */
const MODEL_SHOTS = 200;
/** Shots a place here; `npm run bench:theorem` takes 200. */
const SHOTS = 16;
/** Standard errors that a figure may be off; 42 of them are looked at. Two-sided chance of any: 1 %. */
const Z = 3.7;

const shareOf = ({ said, n }: HandRow, place: number): number => said[place]! / n;
const variance = (share: number, n: number): number => {
  // Wilson's middle, so that 0 and 1 of few shots are not taken for certain.
  const p = (share * n + 2) / (n + 4);
  return (p * (1 - p)) / n;
};

describe('margins and hands, 200 ms late', () => {
  let rows: readonly HandRow[];
  beforeAll(() => {
    rows = runBuilt('test/theorem/print-hands.ts', String(SHOTS)) as typeof rows;
    for (const row of rows)
      console.log(
        `margin ${row.margin}, ${row.hand}: ${row.said.map((_, i) => (100 * shareOf(row, i)).toFixed(0)).join(' / ')} %`,
      );
  }, 600_000);
  const rowOf = (margin: Margin, hand: HandName): HandRow =>
    rows.find((row) => row.margin === margin && row.hand === hand)!;

  /**
   * What the model and this bench make different of a hand that keeps still, as a share. Here the threshold is 0.3 of white.
   * Assumed: the model's lie between 0.15 and 0.5, as in its other runs. At a border, where 0.44 of the spot is on the box, that
   * says "target" in (0.44 - 0.15) / 0.35 = 83 % of the shots (its 84), here in all of them; four dots outside, with 0.2 of the
   * spot on it, in some, here in none. A hand that moves blurs the border: this is the most by which a place may differ.
   */
  const thresholds = (margin: Margin, place: number): number =>
    shareOf(rowOf(margin, 'still'), place) - MODEL[margin].still![place]! / 100;

  const compared = ([0, 4, 8] as const).flatMap((margin) =>
    (Object.keys(MODEL[margin]) as HandName[])
      .filter((hand) => hand !== 'still')
      .map((hand) => [margin, hand, MODEL[margin][hand]!] as const),
  );

  test.each(compared)(
    'margin %i, %s: every place and the mean of all are those of the model, within chance',
    (margin, hand, model) => {
      const row = rowOf(margin, hand);
      let [difference, spread, systematic] = [0, 0, 0];
      for (const [place, percent] of model.entries()) {
        const share = shareOf(row, place);
        const chance = variance(share, row.n) + variance(percent / 100, MODEL_SHOTS);
        const allowed = Math.abs(thresholds(margin, place)) + Z * Math.sqrt(chance);
        expect([DOTS_BESIDE[place], Math.abs(share - percent / 100) <= allowed, share]).toEqual([
          DOTS_BESIDE[place],
          true,
          share,
        ]);
        difference += share - percent / 100;
        systematic += thresholds(margin, place);
        spread += chance;
      }
      expect(Math.abs(difference)).toBeLessThanOrEqual(Math.abs(systematic) + Z * Math.sqrt(spread));
    },
  );

  test('a hand that keeps still is seen on the box and up to its border, and no farther', () => {
    for (const margin of [0, 4, 8] as const)
      expect(rowOf(margin, 'still').said).toEqual(DOTS_BESIDE.map((dots) => (dots <= 8 + margin ? 1 : 0)));
  });

  test('on the same draws a larger margin says more, and a larger movement less in the middle and more far off', () => {
    for (const hand of ['braced', 'one-handed', 'one-handed-pull'] as const) {
      const [none, four, eight] = ([0, 4, 8] as const).map((margin) => rowOf(margin, hand).said) as [
        readonly number[],
        readonly number[],
        readonly number[],
      ];
      for (const place of DOTS_BESIDE.keys()) {
        expect(four[place]).toBeGreaterThanOrEqual(none[place]!);
        expect(eight[place]).toBeGreaterThanOrEqual(four[place]!);
      }
      expect(four[3]).toBeGreaterThan(none[3]!);
      expect(eight[4]).toBeGreaterThan(four[4]!);
    }
    for (const margin of [0, 4, 8] as const) {
      const [braced, pull] = [rowOf(margin, 'braced').said, rowOf(margin, 'one-handed-pull').said];
      expect(pull[0]).toBeLessThanOrEqual(braced[0]!);
      expect(pull[5]).toBeGreaterThanOrEqual(braced[5]!);
    }
  });
});
