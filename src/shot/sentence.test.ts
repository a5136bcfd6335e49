import { expect, test } from 'vitest';
import { TIMINGS } from '../units/timing.ts';
import { flashReadOf, instantsOf } from './instants.ts';
import { notesOf, sentenceOf, verdictText } from './sentence.ts';
import type { ShotResult } from './shot-watch.ts';

const timing = TIMINGS['60hz'];
/** Ticks of so many ms, about. */
const at = (ms: number): number => Math.round(ms * 21_477.27);

/** A hit: lit by the scene from 1 to 20 ms after the trigger, by the flash from 60 ms on. */
const hit: ShotResult = {
  shot: 0,
  aim: { x: 0, y: 0 },
  truth: { kind: 'target', target: 1, shares: [0, 1] },
  said: { kind: 'target', target: 1 },
  saidTwice: false,
  judgement: 'hit',
  ticks: {
    trigger: 0,
    flashOnWire: at(10),
    lightAtSpot: at(59),
    crossing: at(60),
    firstLitRead: at(2),
    lastRead: at(65),
    decision: at(66),
    deadline: at(1000),
  },
  reads: [at(2), at(30), at(62), at(65)],
  flips: [at(1), at(20), at(60)],
  shownTargets: [],
  warnings: [],
};

test('light that was read before the flash came is not taken for its light', () => {
  expect(flashReadOf(hit)).toBe(at(62));
  expect(sentenceOf(hit, timing)).toBe(
    'Light from this flash crossed the threshold 50.0 ms after its line left the console; the program read it 2.0 ms later, after other light that it had read before.',
  );
  const named = Object.fromEntries(instantsOf(hit, timing).map(({ name, ms }) => [name, ms?.toFixed(1)]));
  expect([named['firstLitRead'], named['flashRead']]).toEqual(['2.0', '62.0']);
});

test('a target said before the light of the flash was read is not from it', () => {
  const early = { ...hit, reads: [at(2), at(30)], ticks: { ...hit.ticks, lastRead: at(30), decision: at(31) } };
  expect(flashReadOf(early)).toBe(null);
  expect(sentenceOf(early, timing)).toMatch(
    /the program's first read of light was 8\.0 ms before it left: that light is not from this flash\.$/,
  );
});

test.each([
  [{}, 'the aim was on target 1 (share of the spot 0.000, 1.000); the program said target 1'],
  [{ said: { kind: 'none' } }, 'the aim was on target 1 (share of the spot 0.000, 1.000); the program said none'],
  [
    { truth: { kind: 'nothing', shares: [] }, said: { kind: 'nothing' } },
    'the aim was on nothing; the program said nothing by its deadline, 1000.000 ms after the trigger',
  ],
] as const)('%j', (change, text) => expect(verdictText({ ...hit, ...change } as ShotResult, timing)).toBe(text));

test('notes: a sentence for each warning, and that something was said twice', () => {
  expect(notesOf(hit)).toEqual([]);
  const noted = notesOf({ saidTwice: true, warnings: ['target 0 is small'] });
  expect(noted).toEqual([expect.stringMatching(/twice for one shot/), 'Target 0 is small.']);
});
