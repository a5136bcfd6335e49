import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { beforeAll, expect, test } from 'vitest';
import { FlashAnalyser } from '../../src/safety/flash-analyser.ts';
import { linearOf } from '../../src/safety/flash-colour.ts';
import { FLASH_PROFILES } from '../../src/safety/flash-profile.ts';
import type { DrawnPicture, PlayOutcome, PlayRequest } from '../../src/workers/play.api.ts';
import { LivePlay } from '../../src/workers/play-service.ts';
import { screen } from '../lamplighter.ts';

const FOLDER = 'homebrew-demo/lamplighter';
const REQUEST: PlayRequest = {
  image: new Uint8Array(readFileSync(`${FOLDER}/same-frame-tested.bin`)),
  labels: readFileSync(`${FOLDER}/same-frame-tested.lbl`, 'utf8'),
  scenario: readFileSync(`${FOLDER}/tube.json`, 'utf8'),
  lightPath: screen(50),
  aim: { x: 52, y: 36 },
};
/** Of the page's large pictures. */
const SIZE = { scale: 1.1875, pixelAspect: 1 };
const PROFILE = FLASH_PROFILES.find(({ id }) => id === 'wcag-a')!;
const CELL = 8;

let play: LivePlay;
let outcome: PlayOutcome;
let timeMs = 0;

function still(ms: number) {
  const answer = play.still(ms, timeMs);
  if ('refused' in answer) throw new Error(answer.refused);
  return answer;
}

function rehearsed(): PlayOutcome {
  const answer = play.rehearse(REQUEST);
  if ('refused' in answer) throw new Error(answer.refused);
  return answer.outcome;
}

/** Mean of the linear primaries of each cell, shape `[cell * 3 + primary]`. */
function cellsOf(dots: Uint8ClampedArray): Float64Array {
  const sums = new Float64Array(((256 / CELL) * 240 * 3) / CELL);
  for (let at = 0; at < 256 * 240; at++) {
    const cell = Math.floor(at / 256 / CELL) * (256 / CELL) + Math.floor((at % 256) / CELL);
    for (let primary = 0; primary < 3; primary++) {
      sums[cell * 3 + primary]! += linearOf(dots[at * 4 + primary]!) / CELL ** 2;
    }
  }
  return sums;
}

beforeAll(() => {
  play = new LivePlay();
  outcome = rehearsed();
});

test('without a shot there is nothing to look at, said as data', () => {
  const empty = new LivePlay();
  for (const answer of [empty.still(0, 0), empty.detail(0, 1, 10)]) {
    expect(answer).toEqual({
      refused: expect.stringContaining('no shot has been judged'),
      hint: 'Pull the trigger first.',
    });
  }
});

test('reads are called by the labels of the program', () => {
  expect(outcome.lanes!.codes.length).toBeGreaterThan(1);
  for (const code of outcome.lanes!.codes) expect(code).toMatch(/^[A-Za-z_:]\w*(@\w+)?(\+\d+)?$/);
});

test('a held instant that would flash is drawn when it has been held, with its box as an outline at once', () => {
  const flash = outcome.lanes!.pictures.find(({ isFlash }) => isFlash)!;
  timeMs += 5000;
  expect(still(-5).sent.dots).not.toBe(null);
  timeMs += 500;
  const first = still(flash.toMs - 0.5);
  expect(first.isHeldBack).toBe(true);
  expect(first.sent.dots).toBe(null);
  expect(first.sent.outlines.length).toBe(1);
  expect(first.shown.outlines).toEqual([]);
  timeMs += 1000;
  expect(still(flash.toMs - 0.5).sent.dots).not.toBe(null);
});

test('no scrubbing makes the pictures flash', () => {
  const { fromMs, toMs } = outcome.lanes!;
  const instant = fc.double({ min: fromMs, max: toMs, noNaN: true });
  const step = fc.constantFrom(4, 16, 100, 320, 700);
  const seen = (judge: FlashAnalyser, before: Float64Array | undefined, { dots }: DrawnPicture) => {
    const light = dots === null ? before : cellsOf(dots);
    if (light !== undefined) judge.push(light, timeMs / 1000);
    return light;
  };
  fc.assert(
    fc.property(fc.array(fc.tuple(instant, step), { minLength: 20, maxLength: 60 }), (scrub) => {
      timeMs += 5000;
      const judges = [0, 1].map(() => new FlashAnalyser({ profile: PROFILE, size: SIZE }));
      const shown: (Float64Array | undefined)[] = [undefined, undefined];
      for (const [ms, afterMs] of scrub) {
        const answer = still(ms);
        for (const [k, picture] of [answer.sent, answer.shown].entries())
          shown[k] = seen(judges[k]!, shown[k], picture);
        timeMs += afterMs;
      }
      // Both pictures lie in one field of view: six changes a second are allowed to them together.
      expect(judges[0]!.worstChanges + judges[1]!.worstChanges).toBeLessThanOrEqual(6);
    }),
    { seed: 3, numRuns: 12 },
  );
});
