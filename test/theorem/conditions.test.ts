import { beforeAll, expect, test } from 'vitest';
import { runBuilt } from '../run-built.ts';
import type { Sliver } from './conditions.ts';
import type { ShotCount } from './shot-count.ts';

type Counts = Record<string, ShotCount>;
type Short = Record<
  string,
  { short: ShotCount; long: ShotCount; unseen: number; unseenAndMissed: number; missed: number }
>;
let found: {
  farFromTheMark: Counts;
  tooLittleLight: Counts & { shares: { middle: number; corner: number } };
  shortFlash: Short;
  brightSky: Counts;
  closeTargets: Counts;
  withoutRewind: Record<string, Counts>;
  wanderingHand: Counts;
  slivers: Record<string, readonly Sliver[]>;
};
beforeAll(() => {
  found = runBuilt('test/theorem/print-conditions.ts') as typeof found;
}, 600_000);

const allRight = ({ shots, right, refused }: ShotCount): void => expect([right, refused]).toEqual([shots, 0]);

test('(i) a row far from the mark on a panel that shows all rows at once: H = 1 misses it, H = 2 does not', () => {
  allRight(found.farFromTheMark['H = 2']!);
  allRight(found.farFromTheMark['H = 1, near rows']!);
  expect(found.farFromTheMark['H = 1, far row']!.by).toEqual({ miss: 10 });
});

test('(i) a slow panel and too little light: the crossing comes more than a picture late', () => {
  allRight(found.tooLittleLight['middle']!);
  allRight(found.tooLittleLight['corner, quick panel']!);
  expect(found.tooLittleLight['corner']!.by).toEqual({ miss: 10 });
  expect(found.tooLittleLight.shares.corner).toBeLessThan(0.55);
});

test('(ii) a flash shorter than the gap between two reads: missed where the trace says that no read fell into it', () => {
  const { elsewhere, ...bands } = found.shortFlash;
  allRight(elsewhere!.short);
  for (const { long, unseen, unseenAndMissed } of Object.values(bands)) {
    allRight(long);
    expect(unseenAndMissed).toBe(unseen);
  }
  for (const lamp of ['upper lamp', 'lower lamp']) {
    const { short, missed, unseen } = bands[lamp]!;
    expect(missed).toBe(short.wrong);
    expect(unseen).toBeGreaterThanOrEqual(3);
    expect(missed - unseen).toBeLessThanOrEqual(1);
  }
  expect(bands['mark and middle lamp']!.short.refused).toBeGreaterThanOrEqual(3);
});

test('(iii) a scene that fades longer than the black pictures last, white all over: one picture is too few', () => {
  allRight(found.brightSky['the rule']!);
  allRight(found.brightSky['no dark test']!);
  // One black picture: wrong in 25 to 75 %, by the rule's own model.
  expect(found.brightSky['one black picture']!.by['miss']).toBe(30);
  expect(found.brightSky['one black picture, no dark test']!.by['miss']).toBe(10);
});

test('(iv) two targets nearer than half a box and the spot: the neighbour is named', () => {
  expect(found.closeTargets['14 dots']!.by).toEqual({ 'wrong target': 10 });
  allRight(found.closeTargets['40 dots']!);
});

test('(iv) is a little short: at 18 to 21 dots the sliver of the neighbour that the spot sees is enough', () => {
  expect(found.closeTargets['19 dots, LCD']!.by).toEqual({ 'wrong target': 10 });
  expect(found.closeTargets['21 dots, tube']!.by).toEqual({ 'wrong target': 10 });
  allRight(found.closeTargets['22 dots, LCD']!);
  allRight(found.closeTargets['22 dots, tube']!);
});

test('(v) moths, boxes where they are now: missed on late screens; rewound: hit everywhere', () => {
  const { rewind, none } = found.withoutRewind;
  for (const count of Object.values(rewind!)) allRight(count);
  allRight(none!['0 to 25 ms']!);
  allRight(none!['25 to 50 ms']!);
  expect(none!['above 100 ms']!.by).toEqual({ miss: 36 });
});

test('(vi) a hand that leaves the box before the light has come', () => {
  allRight(found.wanderingHand['still, late']!);
  allRight(found.wanderingHand['wandering little, late']!);
  expect(found.wanderingHand['wandering, late']!.by).toEqual({ miss: 12 });
});

test('a sliver of a box is a hit: shares up to 0.10 count as nothing, but the sensor sees 0.03 on a tube, 0.07 on an LCD', () => {
  const judged = (path: string, verdict: string): number[] =>
    found.slivers[path]!.filter(({ by }) => by[verdict] === 4).map(({ share }) => share);
  for (const [path, from] of [
    ['tube', 0.025],
    ['lcd', 0.06],
  ] as const) {
    expect(Math.min(...judged(path, 'false hit'))).toBeGreaterThan(from);
    expect(Math.max(...judged(path, 'rightly none'))).toBeLessThan(from);
    expect(Math.max(...judged(path, 'false hit'))).toBeLessThanOrEqual(0.1);
  }
});
