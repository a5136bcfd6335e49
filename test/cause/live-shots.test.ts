import { describe, expect, test, vi } from 'vitest';
import { changedEntries } from '../../src/shot/cause/apply-cure.ts';
import { explainShot } from '../../src/shot/cause/explain.ts';
import { LiveMoments } from '../../src/shot/live-moments.ts';
import { runShot } from '../../src/shot/shot.ts';
import type { Aim } from '../../src/shot/truth.ts';
import type { Strategy } from '../lamplighter.ts';
import {
  A,
  again,
  causeOf,
  type Document,
  LAMPS,
  lateLcd,
  MARK,
  PlayedStreet,
  RIGHT,
  START,
  TUBE,
  whyOf,
} from './played-street.ts';

/** Shots with nothing but an aim and a light path: strategy, path, aim, verdict, cause. */
const PLAIN: readonly (readonly [Strategy, Document, Aim, string, string])[] = [
  ['same-frame-tested', lateLcd(50), LAMPS[0]!, 'miss', 'too-early'],
  ['same-frame-untested', lateLcd(90), LAMPS[0]!, 'miss', 'too-early'],
  ['same-frame-tested', lateLcd(25), LAMPS[1]!, 'miss', 'too-early'],
  ['same-frame-tested', TUBE, { x: 63, y: 46 }, 'edge', 'off-target'],
  ['same-frame-untested', lateLcd(8), { x: 66, y: 36 }, 'edge', 'off-target'],
  ['same-frame-tested', { ...lateLcd(0), sensor: { kind: 'line-rate' } }, LAMPS[0]!, 'miss', 'blind-sensor'],
  ['same-frame-tested', lateLcd(0, { whiteCdM2: 20 }), LAMPS[0]!, 'miss', 'too-dim'],
  [
    'same-frame-untested',
    { ...lateLcd(0), room: { kind: 'flickering-light', illuminanceLux: 6000, percentFlicker: 100, mainsHz: 60 } },
    { x: 90, y: 70 },
    'false hit',
    'room-light',
  ],
];

describe.each(PLAIN)('%s, %j, aim %j: %s', (strategy, path, aim, judgement, cause) => {
  const played = (way: Document, at: Aim, frames: number) =>
    new PlayedStreet(strategy, way, at).run(frames).pull().run(90);

  test.each([60, 400])('pulled %i frames after power-on: cause and numbers are those of a scenario', (frames) => {
    const play = played(path, aim, frames);
    expect(play.latest.result.judgement).toBe(judgement);
    const why = whyOf(play.latest);
    expect(causeOf(play.latest)).toBe(cause);
    const { ticks, said, reads } = runShot(play.asScenario, 0);
    expect({ ticks, said, reads }).toEqual({
      ticks: play.latest.result.ticks,
      said: play.latest.result.said,
      reads: play.latest.result.reads,
    });
    expect(why).toEqual(explainShot(play.asScenario, 0, { stopsAtFirst: true }));
  });

  test('with the cure the same play is right', () => {
    const play = played(path, aim, 60);
    const why = whyOf(play.latest);
    if (why.kind !== 'proved') throw new Error(why.kind);
    const { scenario } = play.asScenario;
    const cured = changedEntries(scenario, why.causes[0]!.cure.changes) as typeof scenario;
    const { lightPath, shots } = cured;
    expect(played({ ...lightPath }, shots[0]!.aim, 60).latest.result.judgement).toMatch(/^(hit|rightly none)$/);
  });
});

describe('a program that has been calibrated', () => {
  const calibrated = () => new PlayedStreet('calibrated', lateLcd(50), MARK).calibrate();

  test('hits', () => {
    expect(calibrated().pull().run(90).latest.result.judgement).toBe('hit');
  });

  test.each([0, 33, 70, 90, 150])('the light is %i ms late now: the delay it holds is wrong', (delayMs) => {
    const play = calibrated();
    play.light(lateLcd(delayMs)).aim(LAMPS[1]!).run(80).pull().run(120);
    expect(causeOf(play.latest)).toBe('miscalibrated');
    const again = explainShot(play.asScenario, 0, { stopsAtFirst: true });
    expect(again).toMatchObject({ kind: 'proved', causes: [{ id: 'miscalibrated' }] });
  });

  test('... and calibrated anew it hits', () => {
    const play = calibrated().light(lateLcd(90)).run(80).pull().run(90);
    expect(play.latest.result.judgement).not.toBe('hit');
    play.hold(START).run(4).hold(0).run(20).calibrate().pull().run(90);
    expect(play.latest.result.judgement).toBe('hit');
  });

  test('the hand moves off between trigger and flash; kept still it is a hit', () => {
    const play = calibrated().pull().run(2).aim({ x: 90, y: 70 }).run(90);
    expect(play.latest.result.judgement).toBe('miss');
    expect(causeOf(play.latest)).toBe('hand-moved');
    expect(calibrated().pull().run(92).latest.result.judgement).toBe('hit');
  });
});

describe('pulls close together', () => {
  const late = (frames: number) => new PlayedStreet('same-frame-tested', lateLcd(50)).run(frames);

  test('right after power-on, from power-on itself', () => {
    const play = late(6).pull().run(90);
    expect(causeOf(play.latest)).toBe('too-early');
    expect(whyOf(play.latest)).toEqual(explainShot(play.asScenario, 0, { stopsAtFirst: true }));
  });

  test('after a minute, and the next soon after its answer', () => {
    const play = late(3600).pull().run(45).pull().run(60);
    expect(play.judged.map(({ isEarly }) => isEarly)).toEqual([false, false]);
    expect(play.judged.map(causeOf)).toEqual(['too-early', 'too-early']);
  });

  test('at a lamp that the first has lit: no box was flashed, which is no box of a wrong size', () => {
    const play = new PlayedStreet('same-frame-tested', TUBE).run(60).pull().run(8).pull().run(90);
    expect(play.outcomes.map(({ kind }) => kind)).toEqual(['judged', 'judged']);
    expect(play.judged.map(({ result }) => result.judgement)).toEqual(['hit', 'no decision']);
  });

  test('at a lamp whose answer is still to come: the program is busy, not slow to see the trigger', () => {
    const play = new PlayedStreet('same-frame-tested', lateLcd(50)).run(60).pull().run(8).pull().run(100);
    expect(play.latest.result.judgement).toBe('no decision');
    expect(causeOf(play.latest)).not.toBe('trigger-late');
  });

  test('before the answer: the first is over before its fate is known, the second may have got its answer', () => {
    const [first, second] = late(200).pull().run(5).pull().run(90).judged;
    expect(first).toMatchObject({ live: 'pulled again', isEarly: false, result: { judgement: 'no decision' } });
    expect(second!.isEarly).toBe(true);
    again(second!);
  });
});

describe('a change of the light path', () => {
  const changed = (frames: number) =>
    new PlayedStreet('same-frame-tested', TUBE).run(200).light(lateLcd(50)).run(frames);

  test('shortly before: nothing is claimed; a second later it is explained', () => {
    const play = changed(20).pull().run(60);
    expect(play.latest.live).toBe('too soon');
    expect(causeOf(play.pull().run(60).latest)).toBe('too-early');
  });

  test('while the contact is closed and a button held: they are part of what is run again', () => {
    const play = new PlayedStreet('same-frame-tested', TUBE).run(200).hold(RIGHT).pull().run(1);
    play.light(lateLcd(50)).run(62).hold(0).pull().run(90);
    const { live } = play.latest;
    if (typeof live === 'string') throw new Error(live);
    expect(live.pulls.length).toBe(1);
    expect(live.presses.map(({ button }) => button)).toEqual(['Right']);
    again(play.latest);
  });
});

test('keeping moments changes nothing: more than a minute of play with them and without', () => {
  const played = () => {
    const play = new PlayedStreet('same-frame-tested', lateLcd(8)).run(60);
    const paths = [lateLcd(33, { fallMs: 12 }), TUBE, lateLcd(8)];
    for (let i = 0; i < 60; i++) {
      play.hold([0, A, 0, RIGHT][i % 4]!).run(37 + ((7 * i) % 30));
      if (i % 9 === 8) play.light(paths[(i / 9 - 8 / 9) % 3]!);
      for (let k = 0; k < 8; k++) play.aim({ x: 45 + 2 * k + (i % 5), y: 36 + (i % 3) }).run(1);
      play
        .pull()
        .run(i % 6 === 0 ? 7 : 20)
        .aim({ x: 60 + i, y: 50 })
        .run(3);
    }
    return play.run(120).outcomes.map((outcome) => {
      if (outcome.kind !== 'judged') return outcome.error.code;
      const { result, lanes, wires } = outcome;
      return { result, lanes, wires };
    });
  };
  const kept = played();
  const frameDone = vi.spyOn(LiveMoments.prototype, 'frameDone').mockImplementation(() => {});
  expect(played()).toEqual(kept);
  expect(frameDone).toHaveBeenCalled();
  frameDone.mockRestore();
  expect(kept.length).toBeGreaterThan(40);
});
