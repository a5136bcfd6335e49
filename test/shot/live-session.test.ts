import { describe, expect, test } from 'vitest';
import { LiveSession, type PullOutcome } from '../../src/shot/live-session.ts';
import { runShot } from '../../src/shot/shot.ts';
import { hashNoise } from '../../src/units/noise.ts';
import { ticksToMs } from '../../src/units/timing.ts';
import { firstLight } from '../first-light.ts';

const ON_LAMP = { x: 128, y: 112 };
const LATE_LCD = { stages: [{ kind: 'pure-delay', delayMs: 50 }], panel: { kind: 'lcd' } };

function run(session: LiveSession, frames: number): PullOutcome[] {
  return Array.from({ length: frames }, () => session.runFrame()).flat();
}

const judgements = (outcomes: readonly PullOutcome[]): string[] =>
  outcomes.map((outcome) => (outcome.kind === 'judged' ? outcome.result.judgement : outcome.error.code));

test('40 random pulls are judged as the same shots of a scenario are', () => {
  const seen = new Set<string>();
  for (let i = 0; i < 40; i++) {
    const draw = (stream: number, low: number, high: number) => low + (high - low) * hashNoise(31, stream, i);
    const aim = { x: 128 + draw(1, -20, 20), y: 112 + draw(2, -24, 24) };
    const stages = i % 2 === 0 ? [] : [{ kind: 'pure-delay', delayMs: draw(3, 0, 70) }];
    const panel = i % 4 < 2 ? { kind: 'beam-tube' } : { kind: 'lcd', riseMs: draw(4, 1, 9) };
    const setting = { lightPath: { stages, panel }, deadlineFrames: 14 };
    const session = new LiveSession(firstLight(setting), aim);
    run(session, 20 + i);
    const atMs = ticksToMs(session.timing, session.tick);
    session.pullTrigger();
    const outcomes = run(session, 30);
    const expected = runShot(firstLight({ ...setting, shots: [{ aim, atMs }] }), 0);
    expect(outcomes.length).toBe(1);
    if (outcomes[0]?.kind !== 'judged') throw outcomes[0]!.error;
    const { flips, ...result } = outcomes[0].result;
    const { flips: expectedFlips, ...rest } = expected;
    expect(result).toEqual(rest);
    expect(flips).toEqual(expectedFlips.slice(0, flips.length));
    seen.add(expected.judgement);
  }
  expect([...seen].sort()).toEqual(['edge', 'false hit', 'hit', 'miss', 'rightly none']);
});

describe('the lanes of a shot', () => {
  const shoot = (lightPath: Readonly<Record<string, unknown>>) => {
    const session = new LiveSession(firstLight({ lightPath }), ON_LAMP);
    run(session, 20);
    session.pullTrigger();
    const [outcome] = run(session, 30);
    if (outcome?.kind !== 'judged') throw new Error('not judged');
    return outcome;
  };

  test.each([
    ['tube', { stages: [], panel: { kind: 'beam-tube' } }],
    ['late LCD', LATE_LCD],
  ])('%s: light, sensor and bit agree with the instants of the result', (_name, lightPath) => {
    const { lanes, result } = shoot(lightPath);
    const timing = firstLight({}).timing;
    const msOf = (tick: number | null) => ticksToMs(timing, tick! - result.ticks.trigger);
    const column = (ms: number) => Math.floor(((ms - lanes.fromMs) / (lanes.toMs - lanes.fromMs)) * 800);
    expect(lanes.lit.some(({ fromMs }) => Math.abs(fromMs - msOf(result.ticks.crossing)) < 1e-9)).toBe(true);
    const at = column(msOf(result.ticks.crossing));
    expect(Math.max(...lanes.sensor.slice(2 * at, 2 * at + 6))).toBeGreaterThanOrEqual(lanes.threshold[at]!);
    expect(Math.max(...lanes.sensor.slice(0, 2 * (at - 1)))).toBeLessThan(lanes.threshold[at - 2]!);
    const flash = lanes.pictures.filter(({ isFlash }) => isFlash);
    expect(flash.length).toBe(1);
    expect(msOf(result.ticks.flashOnWire)).toBeGreaterThanOrEqual(flash[0]!.fromMs);
    expect(msOf(result.ticks.flashOnWire)).toBeLessThan(flash[0]!.toMs);
    const last = lanes.looking[lanes.looking.length - 1]!;
    expect(last.toMs).toBeCloseTo(msOf(result.ticks.lastRead), 9);
  });
});

describe('between frames', () => {
  test('the wand moves: beside, then on the lamp', () => {
    const session = new LiveSession(firstLight({}), { x: 30, y: 30 });
    run(session, 20);
    session.pullTrigger();
    const first = run(session, 30);
    session.moveAim(ON_LAMP);
    run(session, 2);
    session.pullTrigger();
    expect(judgements([...first, ...run(session, 30)])).toEqual(['rightly none', 'hit']);
  });

  test.each([
    ['tube', { stages: [], panel: { kind: 'beam-tube' } }, 'hit'],
    ['late LCD', LATE_LCD, 'miss'],
  ])('%s: the wand lies beside the picture for 20 s, then comes back', (_name, lightPath, judgement) => {
    const session = new LiveSession(firstLight({ lightPath }), { x: -16, y: 118.9 });
    for (let k = 0; k < 10; k++) {
      run(session, 110);
      session.pullTrigger();
      expect(judgements(run(session, 20))).toEqual(['rightly none']);
    }
    session.moveAim(ON_LAMP);
    run(session, 4);
    session.pullTrigger();
    expect(judgements(run(session, 30))).toEqual([judgement]);
  });

  test('another light path: a hit on the tube is a miss on a late LCD, and a hit again on the tube', () => {
    const prepared = firstLight({});
    const session = new LiveSession(prepared, ON_LAMP);
    const outcomes: PullOutcome[] = [];
    for (const path of [prepared.scenario.lightPath, firstLight({ lightPath: LATE_LCD }).scenario.lightPath]) {
      for (const settings of [path, prepared.scenario.lightPath]) {
        session.changeLightPath(settings);
        run(session, 20);
        session.pullTrigger();
        outcomes.push(...run(session, 40));
      }
    }
    expect(judgements(outcomes)).toEqual(['hit', 'hit', 'miss', 'hit']);
  });

  test('a second pull while the contact is closed is none; a pull before the first answer ends that shot', () => {
    const session = new LiveSession(firstLight({}), ON_LAMP);
    run(session, 20);
    session.pullTrigger();
    run(session, 1);
    session.pullTrigger();
    expect(judgements(run(session, 30))).toEqual(['hit']);
    session.pullTrigger();
    run(session, 5);
    session.pullTrigger();
    expect(judgements(run(session, 30)).length).toBe(2);
  });

  test('buttons are what the pad sends', () => {
    const session = new LiveSession(firstLight({}), ON_LAMP);
    session.holdButtons(1, 0b1001);
    expect([session.buttons(1, session.tick), session.buttons(2, session.tick)]).toEqual([0b1001, 0]);
  });

  test('what the glass shows is what was sent 50 ms before', () => {
    const session = new LiveSession(firstLight({ lightPath: LATE_LCD }), ON_LAMP);
    run(session, 30);
    expect(session.sentPicture!.index - session.shownPicture!.index).toBeGreaterThanOrEqual(2);
  });

  test('a picture that the glass cannot have shown yet is not judged, and play goes on', () => {
    const session = new LiveSession(firstLight({ lightPath: LATE_LCD }), ON_LAMP);
    run(session, 1);
    session.pullTrigger();
    expect(judgements(run(session, 20))).toEqual(['SHOT_TOO_EARLY']);
  });

  test('a light path that needs more pictures than are kept is refused, and the old one stays', () => {
    const session = new LiveSession(firstLight({}), ON_LAMP);
    const settings = firstLight({
      lightPath: {
        stages: [
          { kind: 'pure-delay', delayMs: 500 },
          { kind: 'pure-delay', delayMs: 500 },
          { kind: 'frame-buffer', frames: 8 },
        ],
        panel: { kind: 'lcd', fallMs: 200 },
      },
    }).scenario.lightPath;
    expect(() => session.changeLightPath(settings)).toThrow(/light path/);
    run(session, 20);
    session.pullTrigger();
    expect(judgements(run(session, 30))).toEqual(['hit']);
  });
});
