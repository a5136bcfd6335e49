import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { LatelightError } from '../../src/errors/latelight-error.ts';
import { atOnce } from '../../src/shot/cause/stepwise.ts';
import type { LightPathSettings, PlayOutcome } from '../../src/workers/play.api.ts';
import { LivePlay } from '../../src/workers/play-service.ts';
import type { Refusal } from '../../src/workers/refusal.ts';
import { whyLive } from '../../src/workers/why-wrong.ts';
import { lateLcd, PlayedStreet } from '../cause/played-street.ts';
import { LAMPLIGHTER, type Strategy, screen } from '../lamplighter.ts';

const SELECT = 4;
const LAMP = { x: 52, y: 36 };

function given<Answer extends object>(answer: Answer | Refusal): Answer {
  if ('refused' in answer) throw new Error(answer.refused);
  return answer;
}

/** The page's worker while somebody plays: practice street, wand on the first lamp. */
class PlayedPage {
  readonly play = new LivePlay();
  readonly outcomes: PlayOutcome[] = [];

  constructor(strategy: Strategy, lightPath: LightPathSettings) {
    this.start(strategy, lightPath);
  }

  start(strategy: Strategy, lightPath: LightPathSettings): void {
    given(
      this.play.start({
        image: new Uint8Array(readFileSync(`${LAMPLIGHTER}/${strategy}.bin`)),
        labels: readFileSync(`${LAMPLIGHTER}/${strategy}.lbl`, 'utf8'),
        scenario: readFileSync(`${LAMPLIGHTER}/tube.json`, 'utf8'),
        lightPath,
        aim: LAMP,
      }),
    );
    this.run(24, SELECT);
    this.run(80);
  }

  run(frames: number, buttons = 0, pulls = false): void {
    const input = {
      aim: LAMP,
      pulls,
      buttons,
      frames,
      rendering: 'outline',
      onScreen: { sent: null, shown: null },
      timeMs: 0,
    } as const;
    this.outcomes.push(...given(this.play.advance(input)).outcomes);
  }

  shoot(frames = 60): void {
    this.run(1, 0, true);
    this.run(frames);
  }
}

test('null before the first shot; then the cause of a live shot, with its cure as a change of the light path', async () => {
  const page = new PlayedPage('same-frame-tested', screen(50));
  expect(await page.play.explain()).toBe(null);
  page.shoot();
  expect(page.outcomes.map(({ judgement }) => judgement)).toEqual(['miss']);
  expect(await page.play.explain()).toMatchObject({
    kind: 'proved',
    isPair: false,
    causes: [{ sentence: expect.stringContaining('50.0 ms'), changes: [{ in: 'scenario', path: 'lightPath.stages' }] }],
  });
});

test('a hit has no cause', async () => {
  const page = new PlayedPage('same-frame-tested', screen(0, { kind: 'beam-tube' }));
  page.shoot();
  expect(page.outcomes.map(({ isRight }) => isRight)).toEqual([true]);
  expect(await page.play.explain()).toEqual({ kind: 'right' });
});

test('a pull that was not judged has no cause', () => {
  expect(atOnce(whyLive({ kind: 'not judged', error: new LatelightError('NO_SHOT', {}) }))).toBe(null);
});

test('nothing is claimed of a shot right after a change of the light path', async () => {
  const page = new PlayedPage('same-frame-tested', screen(0, { kind: 'beam-tube' }));
  given(page.play.changeLightPath(screen(50)));
  page.run(10);
  page.shoot();
  const text = expect.stringMatching(/changed since/);
  expect(await page.play.explain()).toEqual({ kind: 'not explained', text });
});

describe('pulled again before the answer', () => {
  const pulledTwice = async (strategy: Strategy) => {
    const page = new PlayedPage(strategy, screen(50));
    page.shoot(5);
    page.run(1, 0, true);
    const first = await page.play.explain();
    page.run(90);
    expect(page.outcomes[0]!.judgement).toBe('no decision');
    expect(first).toEqual({ kind: 'not explained', text: expect.stringMatching(/was pulled again/) });
    return { second: page.outcomes[1]!, why: await page.play.explain() };
  };

  test('both shots say so', async () => {
    const { second, why } = await pulledTwice('same-frame-tested');
    expect(second.judgement).toBe('miss');
    expect(why).toEqual({ kind: 'not explained', text: expect.stringMatching(/the shot before/) });
  });

  test('a second one that is right needs no cause', async () => {
    const { second, why } = await pulledTwice('fixed-delay');
    expect([second.judgement, why]).toEqual(['hit', { kind: 'right' }]);
  });

  test('what cannot be judged up to its deadline says why not', () => {
    // The lamp that the first shot lights appears behind the second one's end, and is not the box of a shot.
    const hit = new PlayedStreet('fixed-delay', lateLcd(50)).run(200).pull().run(5).pull().run(90).latest;
    const wrong = { ...hit, isEarly: false, result: { ...hit.result, judgement: 'miss' as const } };
    const text = expect.stringMatching(/cannot be judged: in the flash picture the bright rectangle/);
    expect(atOnce(whyLive(wrong))).toEqual({ kind: 'not explained', text });
  });
});

test('play goes on while a cause is looked for, and another shot or another program ends the search', async () => {
  // None is proved for this one, which takes long.
  const path = { ...screen(0), sensor: { kind: 'line-rate' } };
  const page = new PlayedPage('fixed-delay', path);
  page.shoot();
  const framesUntil = async (asked: Promise<unknown>): Promise<number> => {
    let [count, isOver] = [0, false];
    const over = asked.then(() => {
      isOver = true;
    });
    for (; !isOver; count++) {
      page.run(1);
      await new Promise((resolve) => setTimeout(resolve));
    }
    await over;
    return count;
  };
  expect(await framesUntil(page.play.explain())).toBeGreaterThan(2);
  const first = page.play.explain();
  page.shoot();
  expect(await first).toBe(null);
  const second = page.play.explain();
  page.start('same-frame-tested', path);
  expect(await second).toBe(null);
  expect(await page.play.explain()).toBe(null);
});
