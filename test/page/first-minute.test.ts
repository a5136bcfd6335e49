import { expect, test } from 'vitest';
import { FIRST_MINUTE, seenText } from '../../src/ui/bench/first-minute-steps.ts';
import type { PlayOutcome } from '../../src/workers/play.api.ts';
import { LivePlay } from '../../src/workers/play-service.ts';
import { rehearsedShot } from '../workers/rehearsed-shot.ts';

const shots = FIRST_MINUTE.map(({ state }) => rehearsedShot(new LivePlay(), state));

test('from step to step one thing changes: the screen, then the program', () => {
  const [first, second, third] = FIRST_MINUTE.map(({ state }) => state);
  expect([second!.strategy, second!.aim]).toEqual([first!.strategy, first!.aim]);
  expect(second!.lightPath).not.toEqual(first!.lightPath);
  expect([third!.lightPath, third!.aim]).toEqual([second!.lightPath, second!.aim]);
  expect(third!.strategy).not.toBe(second!.strategy);
});

test('the verdicts are a hit, a miss and a hit, and are told with the figures of the shots', () => {
  expect(shots.map(({ judgement }) => judgement)).toEqual(['hit', 'miss', 'hit']);
  const texts = shots.map((shot, i) => seenText(FIRST_MINUTE[i]!, shot));
  for (const [i, { marks }] of shots.entries()) {
    const ms = (name: string): number => marks.find((mark) => mark.name === name)!.ms;
    const lightMs = ms('crossing') - ms('flashOnWire');
    const figure = lightMs < 1 ? `${(lightMs * 1000).toFixed(1)} µs` : `${lightMs.toFixed(1)} ms`;
    expect(texts[i]).toContain(`${figure} after its line had left the console`);
  }
  expect(texts[1]).toContain('no longer asking for this lamp');
  expect(texts[2]).toContain('had measured the screen');
});

test.each([
  ['a miss where a hit was to be seen', 0, 1],
  ['a hit where a miss was to be seen', 1, 0],
])('%s is told as it is', (_, step, shot) => {
  const text = seenText(FIRST_MINUTE[step]!, shots[shot]!);
  expect(text).toBe(
    `This was to be a ${FIRST_MINUTE[step]!.expected}, and it came out otherwise: what happened stands below.`,
  );
});

test('a miss whose light came within the picture of its flash is not told as one that came late', () => {
  const prompt = { ...shots[0]!, judgement: 'miss', isRight: false };
  expect(seenText(FIRST_MINUTE[1]!, prompt)).toMatch(/not of a light that came late/);
});

test('a shot without a judgement is told as it is', () => {
  const refused: PlayOutcome = { ...shots[0]!, judgement: 'not judged', lanes: null, marks: [], wires: null };
  expect(seenText(FIRST_MINUTE[0]!, refused)).toMatch(/came out otherwise/);
});
