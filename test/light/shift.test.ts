import { expect, test } from 'vitest';
import type { ModelSetting } from '../../src/light/parameters.ts';
import { SIGNAL_STAGES } from '../../src/light/signal/index.ts';
import { TIMINGS, ticksPerFrame, ticksToMs } from '../../src/units/timing.ts';
import {
  type Draw,
  delay,
  draws,
  lcd,
  lineRate,
  makePath,
  patchwork,
  play,
  room,
  spot,
  tube,
  wideBand,
} from './light-bench.ts';

const SETTINGS = 1000;
const FRAMES = 4;
const pictures = patchwork(21);

const anyWideBand = (draw: Draw): ModelSetting =>
  wideBand({ cornerHz: draw(500, 50_000), thresholdCdM2: draw(2, 60), hysteresis01: draw(0, 0.5) });

const anyLineRate = (draw: Draw): ModelSetting =>
  lineRate({
    q: draw(1, 10),
    dropCdM2: draw(0, 20),
    attackUs: draw(10, 200),
    releaseMs: draw(0.05, 1.5),
    thresholdCdM2: draw(2, 60),
    hysteresis01: draw(0.01, 0.5),
    holdMs: draw(0, 2),
  });

test('1,000 random settings, delayed by a random number of ticks, give the same bytes that much later', () => {
  let flips = 0;
  for (let i = 0; i < SETTINGS; i++) {
    const draw = draws(31, i);
    const timing = TIMINGS[(['60hz', '50hz', '50hz-clone'] as const)[i % 3]!];
    const frame = ticksPerFrame(timing);
    const isTube = draw(0, 1) < 0.4;
    const isStored = draw(0, 1) < 0.3;
    const panel = isTube
      ? tube({ whiteCdM2: draw(50, 200), phosphor: Math.floor(draw(1, 3)) })
      : lcd({
          rows: Math.floor(draw(240, 800)),
          scanMs: isStored ? draw(2, 16.6) : draw(15.5, 16.6),
          riseMs: draw(0.05, 10),
          fallMs: draw(0.05, 10),
          whiteCdM2: draw(100, 500),
        });
    const settings = {
      panel,
      room: room(draw(0, 2000)),
      optics: spot(draw(0.5, 2)),
      sensor: isTube && draw(0, 1) < 0.5 ? anyLineRate(draw) : anyWideBand(draw),
    };
    const aim = { x: draw(0, 256), y: draw(0, 240) };
    const buffer = isStored ? [{ kind: 'frame-buffer', frames: 1 }] : [];
    const ticks = Math.floor(draw(0, frame));
    const shift = Math.floor(draw(0, 3 * frame));
    const run = (delayTicks: number) => {
      const history = play({ paint: pictures, frames: FRAMES, timing });
      const stages = [...buffer, delay(ticksToMs(timing, delayTicks))];
      const path = makePath({ ...settings, stages }, history, aim, timing);
      const end = (FRAMES + 3) * frame + delayTicks;
      path.bitAt(end);
      const { tick, amplitudes } = path.save();
      return { path, flips: path.flips, cut: tick, amplitudes, light: path.lightAt(end), reading: path.sensorAt(end) };
    };
    const [early, late] = [run(ticks), run(ticks + shift)];
    expect(late.flips, `setting ${i}`).toEqual(early.flips.map((tick) => tick + shift));
    expect(late.cut).toBe(early.cut + shift);
    expect(late.amplitudes).toEqual(early.amplitudes);
    expect(late.light).toBe(early.light);
    expect(late.reading).toEqual(early.reading);
    flips += early.flips.length;
  }
  expect(flips).toBeGreaterThan(SETTINGS);
});

test('a delay in ms becomes the nearest whole number of ticks, which the stage shows', () => {
  const pureDelay = SIGNAL_STAGES.find(({ spec }) => spec.kind === 'pure-delay')!;
  for (const timing of Object.values(TIMINGS)) {
    for (const delayMs of [0, 0.00001, 1, 16.639, 75, 500]) {
      const stage = pureDelay.create({ delayMs }, { timing });
      const exact = (delayMs * timing.masterNumerator) / timing.masterDenominator / 1000;
      expect(Math.abs(stage.latencyTicks.least - exact)).toBeLessThanOrEqual(0.5);
      expect(Number.isInteger(stage.latencyTicks.least)).toBe(true);
      expect(stage.latencyTicks.largest).toBe(stage.latencyTicks.least);
    }
  }
});
