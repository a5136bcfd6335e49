import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { prepareScenario } from '../../src/shot/prepared-scenario.ts';
import { checkScenario } from '../../src/shot/scenario.ts';
import { runShot, type ShotResult } from '../../src/shot/shot.ts';
import { hashNoise } from '../../src/units/noise.ts';
import { TIMINGS as TIMING_OF, type TimingId, ticksPerFrame } from '../../src/units/timing.ts';
import { LAMPLIGHTER, type Strategy } from '../lamplighter.ts';

const TUBE = { kind: 'beam-tube' };
const LCD = { kind: 'lcd' };
/** Where the lamps of the practice street are, and a place beside them. */
const LAMPS = [
  { x: 52, y: 36 },
  { x: 132, y: 120 },
  { x: 212, y: 204 },
] as const;
const BESIDE = { x: 90, y: 70 };

interface Bench {
  readonly strategy: Strategy;
  readonly timing?: TimingId;
  readonly delayMs?: number;
  readonly panel?: Readonly<Record<string, unknown>>;
  readonly aims?: readonly { readonly x: number; readonly y: number }[];
  readonly atMs?: number;
  /** Moths instead of lamps. */
  readonly moves?: boolean;
}

/** The practice street with the wand set where the strategy needs it, and one shot for each aim. */
function shoot({ strategy, timing = '60hz', delayMs = 0, panel = LCD, aims = [...LAMPS, BESIDE], ...more }: Bench) {
  const document = JSON.parse(readFileSync(`${LAMPLIGHTER}/calibrated-late-lcd.json`, 'utf8'));
  const isCalibrated = strategy === 'calibrated';
  if (!isCalibrated) delete document.calibration;
  const ready = isCalibrated ? 5000 + 2 * delayMs : 1200 + delayMs;
  Object.assign(document, {
    timing,
    pads: [
      { port: 1, button: 'Select', fromMs: 0, toMs: 400 },
      ...(more.moves === true ? [{ port: 1, button: 'A', fromMs: ready - 200, toMs: ready - 100 }] : []),
    ],
    pulls: isCalibrated ? [{ aim: { x: 128, y: 120 }, atMs: 800 + delayMs }] : [],
    lightPath: { ...document.lightPath, stages: delayMs > 0 ? [{ kind: 'pure-delay', delayMs }] : [], panel },
    shots: aims.map((aim) => ({ aim, atMs: ready + (more.atMs ?? 0) })),
  });
  const prepared = prepareScenario(checkScenario(document), {
    image: new Uint8Array(readFileSync(`${LAMPLIGHTER}/${strategy}.bin`)),
    labels: readFileSync(`${LAMPLIGHTER}/${strategy}.lbl`, 'utf8'),
  });
  return aims.map((_, shot) => runShot(prepared, shot, { draws: 'aim' }));
}

const judgements = (results: readonly ShotResult[]): string[] => results.map(({ judgement }) => judgement);
const HITS = ['hit', 'hit', 'hit', 'rightly none'];
const MISSES = ['miss', 'miss', 'miss', 'rightly none'];
const TIMINGS: readonly TimingId[] = ['60hz', '50hz', '50hz-clone'];

describe.each(TIMINGS)('%s', (timing) => {
  test.each<Strategy>(['same-frame-untested', 'same-frame-tested', 'calibrated'])('%s hits on a tube', (strategy) => {
    const results = shoot({ strategy, timing, panel: TUBE });
    expect(judgements(results)).toEqual(HITS);
    for (const { warnings, saidTwice } of results) expect([warnings, saidTwice]).toEqual([[], false]);
  });

  test.each([60, 75, 120])('same-frame-tested misses on an LCD that is %s ms late', (delayMs) => {
    expect(judgements(shoot({ strategy: 'same-frame-tested', timing, delayMs }))).toEqual(MISSES);
  });

  test.each([0, 3, 14, 32, 50, 57, 75, 100, 150, 200])('calibrated hits on an LCD that is %s ms late', (delayMs) => {
    expect(judgements(shoot({ strategy: 'calibrated', timing, delayMs }))).toEqual(HITS);
  });
});

describe('the scenarios that are checked in', () => {
  test.each([
    ['tube', 'same-frame-untested', HITS],
    ['late-lcd', 'same-frame-tested', MISSES],
    ['calibrated-late-lcd', 'calibrated', HITS],
  ] as const)('%s', (file, strategy, expected) => {
    const scenario = checkScenario(JSON.parse(readFileSync(`${LAMPLIGHTER}/${file}.json`, 'utf8')));
    expect(scenario.image).toBe(`${strategy}.bin`);
    const prepared = prepareScenario(scenario, {
      image: new Uint8Array(readFileSync(`${LAMPLIGHTER}/${scenario.image}`)),
      labels: readFileSync(`${LAMPLIGHTER}/${scenario.labels}`, 'utf8'),
    });
    expect(judgements(scenario.shots.map((_, shot) => runShot(prepared, shot)))).toEqual(expected);
  });
});

describe('where strategies fail', () => {
  test('60 Hz: same-frame-tested misses on an LCD that is 50 ms late', () => {
    expect(judgements(shoot({ strategy: 'same-frame-tested', delayMs: 50 }))).toEqual(MISSES);
  });

  test('untested code takes the bright sky of a screen 8 ms late for a hit on the first box; tested code does not', () => {
    const inBand = { aims: [{ x: 230, y: 160 }], delayMs: 8 };
    expect(judgements(shoot({ strategy: 'same-frame-untested', ...inBand }))).toEqual(['false hit']);
    expect(judgements(shoot({ strategy: 'same-frame-tested', ...inBand }))).toEqual(['rightly none']);
  });

  test('a fixed delay hits where the screen is that late, and misses or errs elsewhere', () => {
    expect(judgements(shoot({ strategy: 'fixed-delay', delayMs: 50 }))).toEqual(HITS);
    expect(judgements(shoot({ strategy: 'fixed-delay', delayMs: 0 }))).not.toEqual(HITS);
    const late = judgements(shoot({ strategy: 'fixed-delay', delayMs: 90 }));
    expect(late.slice(0, 3)).not.toContain('hit');
    expect(late).toContain('wrong target');
  });

  test('calibrated, under the bright sky of a slow panel: black pictures are added until it is dark', () => {
    const panel = { kind: 'lcd', riseMs: 12, fallMs: 25 };
    expect(judgements(shoot({ strategy: 'calibrated', delayMs: 60, panel }))).toEqual(HITS);
  });
});

describe('moths that move', () => {
  const TRIALS = 24;

  test.each(TIMINGS)('%s: boxes stand where the glass showed the moth', (timing) => {
    const said: Record<string, number> = {};
    for (let i = 0; i < TRIALS; i++) {
      const random = (stream: number): number => hashNoise(20_251, stream, i);
      const bench: Bench = {
        strategy: 'calibrated',
        timing,
        delayMs: Math.round(random(0) * 2000) / 10,
        atMs: Math.round(random(1) * 1000),
        moves: true,
      };
      const k = Math.floor(random(2) * 3);
      const row = LAMPS[k]!.y;
      const [first] = shoot({ ...bench, aims: [{ x: 10, y: row }] });
      const target = first!.shownTargets[k]!;
      const [result] = shoot({ ...bench, aims: [{ x: target.x + 8, y: target.y + 8 }] });
      said[result!.judgement] = (said[result!.judgement] ?? 0) + 1;
    }
    expect(said).toEqual({ hit: TRIALS });
  });
});

test('a calibrated shot is over in the frames that the rule promises', () => {
  const [, , , none] = shoot({ strategy: 'calibrated', delayMs: 200 });
  const { trigger, decision } = none!.ticks;
  const frames = (decision! - trigger) / ticksPerFrame(TIMING_OF['60hz']);
  expect(frames).toBeGreaterThan(21); // B + K H + H + D = 2 + 6 + 2 + 12 frames
  expect(frames).toBeLessThan(25);
});
