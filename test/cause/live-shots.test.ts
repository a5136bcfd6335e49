import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { explain } from '../../src/shot/cause/explain.ts';
import { observeLiveShot } from '../../src/shot/cause/live-observation.ts';
import { isRightJudgement } from '../../src/shot/judgement.ts';
import { LiveSession, type PullOutcome } from '../../src/shot/live-session.ts';
import { checkScenario } from '../../src/shot/scenario.ts';
import { prepareScenario } from '../../src/shot/shot.ts';
import { hashNoise } from '../../src/units/noise.ts';
import { LAMPLIGHTER, type Strategy } from '../lamplighter.ts';

type Judged = Extract<PullOutcome, { readonly kind: 'judged' }>;
type Document = Readonly<Record<string, unknown>>;

const SELECT = 4;
const TUBE = { panel: { kind: 'beam-tube' } };
const lateLcd = (delayMs: number, values: Document = {}) => ({
  stages: [{ kind: 'pure-delay', delayMs }],
  panel: { kind: 'lcd', ...values },
});
const lightPath = (path: Document): Document => ({
  room: { kind: 'constant-light', illuminanceLux: 50 },
  optics: { kind: 'gaussian-spot', radiusDots: 6 },
  sensor: { kind: 'wide-band' },
  ...path,
});

/** Lamplighter in somebody's hands, on the practice street. */
class Play {
  readonly session: LiveSession;
  readonly judged: Judged[] = [];
  readonly refused: string[] = [];

  constructor(strategy: Strategy, path: Document, aim = { x: 52, y: 36 }) {
    const document = JSON.parse(readFileSync(`${LAMPLIGHTER}/tube.json`, 'utf8'));
    const files = {
      image: new Uint8Array(readFileSync(`${LAMPLIGHTER}/${strategy}.bin`)),
      labels: readFileSync(`${LAMPLIGHTER}/${strategy}.lbl`, 'utf8'),
    };
    this.session = new LiveSession(
      prepareScenario(checkScenario({ ...document, lightPath: lightPath(path) }), files),
      aim,
    );
    this.session.holdButtons(1, SELECT);
    this.run(24);
    this.session.holdButtons(1, 0);
  }

  run(frames: number): this {
    for (let i = 0; i < frames; i++) {
      for (const outcome of this.session.runFrame()) {
        if (outcome.kind === 'judged') this.judged.push(outcome);
        else this.refused.push(outcome.error.code);
      }
    }
    return this;
  }

  aim(x: number, y: number): this {
    this.session.moveAim({ x, y });
    return this;
  }

  pull(): this {
    this.session.pullTrigger();
    return this;
  }

  changeLight(path: Document): this {
    this.session.changeLightPath(checkScenario({ ...this.document(), lightPath: lightPath(path) }).lightPath);
    return this;
  }

  private document(): Document {
    return JSON.parse(readFileSync(`${LAMPLIGHTER}/tube.json`, 'utf8'));
  }

  get latest(): Judged {
    return this.judged[this.judged.length - 1]!;
  }
}

/** The shot again from its moment is the very shot that was made. */
function again({ live, result }: Judged) {
  const observation = observeLiveShot(live!);
  const { truth, said, judgement, ticks, reads, flips } = observation.result;
  expect({ truth, said, judgement, ticks }).toEqual({
    truth: result.truth,
    said: result.said,
    judgement: result.judgement,
    ticks: result.ticks,
  });
  // A session ends a shot soon after its answer, an observation at the deadline; a light path that is restored has forgotten old flips.
  const since = (list: readonly number[]) => list.filter((tick) => tick >= result.ticks.trigger);
  expect(since(flips).slice(0, since(result.flips).length)).toEqual(since(result.flips));
  expect(reads.slice(0, result.reads.length)).toEqual(result.reads);
  return observation;
}

const causeOf = (judged: Judged): string => {
  const explanation = explain(again(judged), { stopsAtFirst: true });
  return explanation.kind === 'proved' ? explanation.causes[0]!.id : explanation.kind;
};

describe('a live shot is explained as one of a scenario is', () => {
  test('right away, when nothing was running before: from power-on', () => {
    expect(causeOf(new Play('same-frame-tested', lateLcd(50)).run(30).pull().run(60).latest)).toBe('too-early');
  });

  test('after a minute of play, and a second shot soon after the first', () => {
    const play = new Play('same-frame-tested', lateLcd(50)).run(3600).pull().run(45).pull().run(60);
    expect(play.judged.map(causeOf)).toEqual(['too-early', 'too-early']);
  });

  test('off target', () => {
    expect(causeOf(new Play('same-frame-tested', TUBE).run(200).aim(63, 46).run(10).pull().run(60).latest)).toMatch(
      /off-target|right/,
    );
  });

  test('the hand moved off between trigger and flash', () => {
    const play = new Play('calibrated', lateLcd(50), { x: 128, y: 120 }).run(60).pull().run(300).aim(52, 36).run(100);
    play.pull().run(2).aim(90, 70).run(60);
    expect(causeOf(play.latest)).toBe('hand-moved');
  });

  test('another delay after the calibration', () => {
    const play = new Play('calibrated', lateLcd(50), { x: 128, y: 120 }).run(60).pull().run(300).aim(52, 36);
    play.changeLight(lateLcd(90)).run(200).pull().run(60);
    expect(isRightJudgement(play.latest.result.judgement)).toBe(false);
    expect(causeOf(play.latest)).not.toBe('right');
  });

  test('a sensor that is blind to the panel', () => {
    const path = { ...lateLcd(0), sensor: { kind: 'line-rate' } };
    expect(causeOf(new Play('same-frame-tested', path).run(200).pull().run(60).latest)).toMatch(/blind|too-early|slow/);
  });

  test('too soon after the light has changed nothing is claimed', () => {
    const play = new Play('same-frame-tested', TUBE).run(200).changeLight(lateLcd(50)).run(20).pull().run(60);
    expect(play.latest.live).toBeUndefined();
    expect(play.pull().run(60).latest.live).toBeDefined();
  });
});

describe('random play', () => {
  test.each([
    ['same-frame-tested', TUBE],
    ['same-frame-untested', lateLcd(8)],
    ['fixed-delay', lateLcd(33)],
    ['calibrated', lateLcd(50)],
  ] as const)(
    '%s: every shot again is the same shot, every wrong one is explained or said not to be',
    (strategy, path) => {
      const play = new Play(strategy, path, { x: 128, y: 120 }).run(60).pull().run(300);
      const targets = [52, 36, 132, 120, 212, 204];
      for (let i = 0; i < 10; i++) {
        const draw = (stream: number, low: number, high: number) => low + (high - low) * hashNoise(71, stream, i);
        const target = Math.floor(draw(1, 0, 3));
        for (let frame = 0; frame < 12; frame++)
          play
            .aim(targets[2 * target]! + draw(2 + frame, -14, 14), targets[2 * target + 1]! + draw(40 + frame, -14, 14))
            .run(1);
        if (draw(90, 0, 1) < 0.3) play.session.holdButtons(1, 1 << Math.floor(draw(91, 0, 2)));
        play
          .run(Math.floor(draw(93, 0, 20)))
          .pull()
          .run(Math.floor(draw(92, 4, 60)));
        play.session.holdButtons(1, 0);
      }
      play.run(90);
      const kinds = new Set(play.judged.map((judged) => causeOf(judged)));
      expect(play.judged.length).toBeGreaterThan(6);
      expect(kinds.size).toBeGreaterThan(1);
    },
  );
});

test('keeping moments changes nothing: another period of them, the same shots', () => {
  const play = (changes: number) => {
    const one = new Play('same-frame-tested', lateLcd(8)).run(60);
    for (let i = 0; i < changes; i++) one.changeLight(lateLcd(8));
    return one;
  };
  const [plain, changed] = [play(0), play(3)].map((one) => {
    for (let i = 0; i < 12; i++)
      one
        .run(100 + 7 * i)
        .aim(48 + i, 36)
        .pull();
    return one.run(90).judged.map(({ result }) => [result.judgement, result.ticks]);
  });
  expect(changed).toEqual(plain);
});
