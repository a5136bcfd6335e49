import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import type { LightPathSettings, PlayAim, PlayOutcome } from '../../src/workers/play.api.ts';
import { LivePlay } from '../../src/workers/play-service.ts';
import { LAMPLIGHTER, screen } from '../lamplighter.ts';

const SELECT = 4;
const MARK = { x: 128, y: 120 };
const OFF = { x: -16, y: -16 };
const FILES = {
  image: new Uint8Array(readFileSync(`${LAMPLIGHTER}/calibrated.bin`)),
  labels: readFileSync(`${LAMPLIGHTER}/calibrated.lbl`, 'utf8'),
};
const SCENARIO = JSON.parse(readFileSync(`${LAMPLIGHTER}/calibrated-late-lcd.json`, 'utf8'));

/** Somebody at the page, from power-on to the mark. */
class Calibrator {
  readonly play = new LivePlay();

  constructor(lightPath: LightPathSettings, scenario: unknown = SCENARIO) {
    const answer = this.play.start({ ...FILES, scenario: JSON.stringify(scenario), lightPath, aim: MARK });
    if ('refused' in answer) throw new Error(answer.refused);
    this.run(24, MARK, SELECT);
    this.run(80, MARK);
  }

  run(frames: number, aim: PlayAim, buttons = 0, pulls = false): readonly PlayOutcome[] {
    const answer = this.play.advance({
      aim,
      pulls,
      buttons,
      frames,
      rendering: 'outline',
      onScreen: { sent: null, shown: null },
      timeMs: 0,
    });
    if ('refused' in answer) throw new Error(answer.refused);
    return answer.outcomes;
  }

  pull(aim: PlayAim, frames = 300): readonly PlayOutcome[] {
    return [...this.run(1, aim, 0, true), ...this.run(frames, aim)];
  }
}

/** ms, as told. */
const delayIn = (text: string): number => Number(/a delay of ([\d.]+) ms/.exec(text)![1]);

test('a good calibration is told once, with the delay that the program keeps: 40 ms more of it for 40 ms more', async () => {
  const found = [20, 60].map((delayMs) => {
    const page = new Calibrator(screen(delayMs));
    const outcomes = page.pull(MARK);
    expect(outcomes.map(({ judgement, isRight, lanes }) => [judgement, isRight, lanes])).toEqual([
      ['calibrated', true, null],
    ]);
    return delayIn(outcomes[0]!.text);
  });
  expect(found[0]).toBeGreaterThan(20);
  // Whole units of 8 scanlines, 0.51 ms at 60 Hz (README of Lamplighter).
  expect(Math.abs(found[1]! - found[0]! - 40)).toBeLessThan(0.6);
});

test('the shot after it is judged as ever, and its cause is its own', async () => {
  const page = new Calibrator(screen(20));
  const first = page.pull(MARK);
  expect(await page.play.explain()).toBe(null);
  expect(page.pull({ x: 52, y: 36 }, 90).map(({ judgement }) => judgement)).toEqual(['hit']);
  expect(first.length).toBe(1);
});

test('calibrated again on the same light the same is told again', () => {
  const page = new Calibrator(screen(20));
  const [first] = page.pull(MARK);
  // Start leads from the practice street back to the mark.
  page.run(20, MARK, 8);
  page.run(80, MARK);
  expect(page.pull(MARK)).toEqual([first]);
});

test('a refusal is told with what the program holds of it, each time', () => {
  const page = new Calibrator(screen(20));
  for (const _ of [1, 2]) {
    const [refused, ...more] = page.pull(OFF);
    expect(more).toEqual([]);
    expect(refused).toMatchObject({ judgement: 'calibration refused', isRight: false });
    // $86: no light at all (README of Lamplighter).
    expect(refused!.text).toContain('for byte(calibration) >= 129: calibration is $86.');
    page.pull(OFF, 90);
  }
});

test('a scenario that does not say where the delay is kept: nothing is told, nothing is made up', () => {
  const { calibration: _, ...silent } = SCENARIO;
  expect(new Calibrator(screen(20), silent).pull(MARK)).toEqual([]);
});
