import { expect, test } from 'vitest';
import type { BenchState } from '../../src/ui/bench/bench-state.ts';
import { FIRST_MINUTE } from '../../src/ui/bench/first-minute-steps.ts';
import type { LanesDetail, PlayOutcome } from '../../src/workers/play.api.ts';
import { LivePlay } from '../../src/workers/play-service.ts';
import type { Refusal } from '../../src/workers/refusal.ts';
import { rehearsedShot } from './rehearsed-shot.ts';

const play = new LivePlay();
const [onTube, onLcd] = FIRST_MINUTE.map(({ state }) => state);

const shoot = (state: BenchState): PlayOutcome => rehearsedShot(play, state);

function given(answer: LanesDetail | Refusal): LanesDetail {
  if ('refused' in answer) throw new Error(answer.refused);
  return answer;
}

test('the kept shot is looked at as closely as when it was the latest, whatever is shot behind it', () => {
  const kept = shoot(onTube!);
  expect(kept.aim).toEqual(onTube!.aim);
  const closer = given(play.detail(50, 55, 400));
  expect(given(play.detail(50, 55, 400, kept.replay!))).toEqual(closer);
  play.keep(kept.replay);
  const others = Array.from({ length: 5 }, () => shoot(onLcd!));
  expect(given(play.detail(50, 55, 400, kept.replay!))).toEqual(closer);
  const latest = given(play.detail(50, 55, 400));
  expect(latest).toEqual(given(play.detail(50, 55, 400, others.at(-1)!.replay!)));
  expect(latest.light).not.toEqual(closer.light);
  expect(play.detail(50, 55, 400, others[0]!.replay!)).toEqual({
    refused: expect.stringMatching(/^shot \d+ is no longer there/),
    hint: 'Play it again to look at it closer.',
  });
  play.keep(null);
  expect(play.detail(50, 55, 400, kept.replay!)).toHaveProperty('refused');
});
