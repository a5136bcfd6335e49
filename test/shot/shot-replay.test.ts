import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { openScenario } from '../../src/cli/files.ts';
import { LightPath, type LightPathSettings } from '../../src/light/light-path.ts';
import { type Picture, PictureHistory } from '../../src/picture/picture.ts';
import type { LiveSession, PullOutcome } from '../../src/shot/live-session.ts';
import { rehearse } from '../../src/shot/rehearsal.ts';
import { placeAt, tickOfMs } from '../../src/shot/shot-clock.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH, ticksPerLine, ticksToMs } from '../../src/units/timing.ts';
import { screen } from '../lamplighter.ts';

type Judged = Extract<PullOutcome, { kind: 'judged' }>;

const LAMP = { x: 52, y: 36 };
const PATHS = [
  ['tube', screen(0, { kind: 'beam-tube' })],
  ['late LCD', screen(50)],
] as const;

function shoot(
  lightPath: LightPathSettings,
): Judged & { readonly session: LiveSession; readonly settings: LightPathSettings } {
  const prepared = openScenario('homebrew-demo/lamplighter/tube.json');
  const scenario = { ...prepared.scenario, lightPath };
  const { outcome, session } = rehearse({ ...prepared, scenario }, LAMP);
  if (outcome.kind !== 'judged') throw outcome.error;
  return { ...outcome, session, settings: lightPath };
}

const least = (pairs: Float32Array): number => Math.min(...pairs.filter((_, i) => i % 2 === 0));
const largest = (pairs: Float32Array): number => Math.max(...pairs.filter((_, i) => i % 2 === 1));

describe.each(PATHS)('a shot played again: %s', (_name, path) => {
  let shot: ReturnType<typeof shoot>;
  beforeAll(() => {
    shot = shoot(path);
  });

  test('a detail of the whole has the extremes of the lanes, however many columns it has', () => {
    const { lanes, replay } = shot;
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 800 }), (columns) => {
        const detail = replay.detail(lanes.fromMs, lanes.toMs, columns);
        expect(detail.light.length).toBe(2 * columns);
        for (const lane of ['light', 'sensor'] as const) {
          expect([least(detail[lane]), largest(detail[lane])]).toEqual([least(lanes[lane]), largest(lanes[lane])]);
        }
      }),
      { seed: 5, numRuns: 6 },
    );
  });

  test('a detail of any part lies where the lanes are, and is finer', () => {
    const { lanes, replay } = shot;
    const width = (lanes.toMs - lanes.fromMs) / 800;
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 780 }), fc.integer({ min: 2, max: 19 }), (first, count) => {
        const detail = replay.detail(lanes.fromMs + first * width, lanes.fromMs + (first + count) * width, 200);
        const around = lanes.light.slice(2 * Math.max(0, first - 1), 2 * (first + count + 1));
        expect(largest(detail.light)).toBeGreaterThanOrEqual(
          largest(lanes.light.slice(2 * first + 2, 2 * (first + count - 1))),
        );
        expect(largest(detail.light)).toBeLessThanOrEqual(largest(around) * 1.2 + 0.01);
        expect(detail.threshold.every((level) => Number.isFinite(level) && level !== 0)).toBe(true);
      }),
      { seed: 6, numRuns: 40 },
    );
  });

  test('the shortest detail has a column for every tick', () => {
    const detail = shot.replay.detail(10, 10.001, 500);
    expect(detail.threshold.length).toBeGreaterThan(0);
    expect(detail.threshold.length).toBeLessThan(30);
    expect([...detail.light, ...detail.sensor].every(Number.isFinite)).toBe(true);
  });

  test('the still at the end of a picture is that picture', () => {
    const { replay, session, lanes } = shot;
    const { timing } = session;
    for (const { toMs, frame } of lanes.pictures.slice(1, -1)) {
      const lastDotMs = toMs - ticksToMs(timing, (timing.linesPerFrame - PICTURE_HEIGHT - 2) * ticksPerLine(timing));
      const kept = session.sentAfter(frame - 1)[0]!;
      expect(kept.index).toBe(frame);
      expect(replay.still(lastDotMs).sent.codes).toEqual(kept.codes);
    }
  });

  test('half way down the beam the rows above are of the new picture, those below of the old one', () => {
    const { replay, lanes, session } = shot;
    const flash = lanes.pictures.findIndex(({ isFlash }) => isFlash);
    const { fromMs, frame } = lanes.pictures[flash]!;
    const still = replay.still(fromMs + ticksToMs(session.timing, 120 * ticksPerLine(session.timing) + 400));
    expect([still.frame, still.scanline, still.dot]).toEqual([frame, 120, 100]);
    const [before, now] = session.sentAfter(frame - 2) as [Picture, Picture, ...Picture[]];
    const half = 119 * PICTURE_WIDTH;
    expect(still.sent.codes.slice(0, half)).toEqual(now.codes.slice(0, half));
    expect(still.sent.codes.slice(half + 2 * PICTURE_WIDTH)).toEqual(before.codes.slice(half + 2 * PICTURE_WIDTH));
  });

  test("at the aim's row a still shows the picture that the light path says it shows", () => {
    const { replay, session, lanes, result } = shot;
    const row = Math.floor(result.aim.y) * PICTURE_WIDTH;
    const pictures = session.sentAfter(-1);
    const history = new PictureHistory(pictures.length);
    history.load({ newest: pictures[pictures.length - 1]!.index, pictures });
    const light = new LightPath({ settings: shot.settings, timing: session.timing, history, aim: result.aim });
    fc.assert(
      fc.property(fc.double({ min: 0, max: lanes.toMs, noNaN: true }), (ms) => {
        const picture = history.get(light.pictureShownAt(tickOfMs(lanes.clock, ms)))!;
        const shown = replay.still(ms).shown.codes.slice(row, row + 256);
        expect(shown[0]).toBe(picture.codes[row]);
        if (path.panel.kind === 'lcd') expect(shown).toEqual(picture.codes.slice(row, row + 256));
      }),
      { seed: 7, numRuns: 100 },
    );
  });

  test('places: the flash leaves the plug on its scanline, a processor cycle has its ticks', () => {
    const { lanes, result, session } = shot;
    const { flashOnWire } = result.ticks;
    const place = placeAt(lanes.clock, ticksToMs(session.timing, flashOnWire! - result.ticks.trigger));
    expect(place.tick).toBe(flashOnWire);
    expect(Math.abs(place.scanline! - result.aim.y)).toBeLessThan(20);
    expect(place.cycle).toBe(Math.floor(flashOnWire! / 12));
    expect(place.frame).toBe(lanes.pictures.find(({ isFlash }) => isFlash)!.frame);
  });

  test('pictures are called what they are, the program says what it said, rows of the box are bright on the wire', () => {
    const { lanes, result, session } = shot;
    const flash = lanes.pictures.find(({ isFlash }) => isFlash)!;
    expect(flash.name).toBe('box 0');
    expect(new Set(lanes.pictures.map(({ name }) => name))).toContain('scene');
    expect(new Set(lanes.pictures.map(({ name }) => name))).toContain('black');
    expect(lanes.said?.isRight).toBe(result.judgement === 'hit');
    const rows = Array.from({ length: lanes.wire.length / 3 }, (_, k) => lanes.wire.slice(3 * k, 3 * k + 3));
    const bright = rows.filter(([, , level]) => level! > 0.9);
    expect(bright.length).toBeGreaterThan(10);
    expect(bright[0]![0]).toBeGreaterThanOrEqual(flash.fromMs);
    expect(lanes.reads.length).toBe(lanes.readCodes.length);
    const known = new Set(lanes.reads);
    expect(result.reads.every((tick) => known.has(ticksToMs(session.timing, tick - result.ticks.trigger)))).toBe(true);
  });
});

test('a shot that outlasts the pictures kept is judged, and its ruler begins later', () => {
  const prepared = openScenario('homebrew-demo/lamplighter/tube.json');
  // Nobody writes there: the program never says anything, and the shot is watched to its deadline.
  const probes = { ...prepared.probes, saidOn: 'write' as const, saidAt: 0x5000 };
  const scenario = { ...prepared.scenario, lightPath: screen(500) };
  const { outcome } = rehearse({ ...prepared, probes, scenario }, LAMP);
  if (outcome.kind !== 'judged') throw outcome.error;
  expect(outcome.result.judgement).toBe('no decision');
  expect(outcome.lanes.fromMs).toBeGreaterThan(0);
  expect(outcome.lanes.toMs).toBeGreaterThan(1400);
  expect(outcome.lanes.said).toBe(null);
});
