import fc from 'fast-check';
import { expect, test } from 'vitest';
import { TIMINGS } from '../../units/timing.ts';
import { Backlight } from './backlight.ts';

const timing = TIMINGS['60hz'];
const CLOCK = timing.masterNumerator / timing.masterDenominator;

test('on while frac(t f + phase) < duty, tick by tick', () => {
  const property = fc.property(
    fc.double({ min: 2000, max: 50_000, noNaN: true }),
    fc.double({ min: 0.01, max: 0.99, noNaN: true }),
    fc.double({ min: 0, max: 1, noNaN: true }),
    (frequencyHz, duty01, phase01) => {
      const backlight = new Backlight({ frequencyHz, duty01, phase01 }, timing);
      const wrong: number[] = [];
      for (let tick = 0; tick < 30_000; tick++) {
        while (backlight.edgeTick <= tick) backlight.pass();
        const turns = (tick * frequencyHz) / CLOCK + phase01;
        const share = turns - Math.floor(turns);
        // at an edge itself the last digit of this formula decides
        const toEdge = Math.min(share, Math.abs(share - duty01), 1 - share);
        if (toEdge > 1e-9 && backlight.isOn !== share < duty01) wrong.push(tick);
      }
      expect(wrong).toEqual([]);
    },
  );
  fc.assert(property, { seed: 3, numRuns: 30 });
});

test('edges are the first whole ticks at or after their times, after hours as after power-on', () => {
  const pwm = { frequencyHz: 240, duty01: 0.25, phase01: 0.4 };
  const backlight = new Backlight(pwm, timing);
  expect(backlight.isOn).toBe(false);
  const wrong: number[] = [];
  for (let k = 1; k < 3 * 3600 * 240; k++) {
    if (backlight.edgeTick !== Math.ceil((k - 0.4) * (CLOCK / 240))) wrong.push(k);
    backlight.pass();
    const late = backlight.edgeTick - ((k + 0.25 - 0.4) * CLOCK) / 240;
    if (late < -0.001 || late > 1.001) wrong.push(k + 0.25);
    backlight.pass();
  }
  expect(wrong).toEqual([]);
});

test('no edge when it is steady: no frequency, or always on', () => {
  for (const pwm of [
    { frequencyHz: 0, duty01: 0.5, phase01: 0.7 },
    { frequencyHz: 240, duty01: 1, phase01: 0.7 },
  ]) {
    const backlight = new Backlight(pwm, timing);
    expect([backlight.isSteady, backlight.isOn, backlight.edgeTick]).toEqual([true, true, Number.POSITIVE_INFINITY]);
  }
});

test('saves and loads', () => {
  const pwm = { frequencyHz: 16_000, duty01: 0.3, phase01: 0.9 };
  const [backlight, loaded] = [new Backlight(pwm, timing), new Backlight(pwm, timing)];
  for (let i = 0; i < 1001; i++) backlight.pass();
  loaded.load(backlight.save());
  expect([loaded.isOn, loaded.edgeTick]).toEqual([backlight.isOn, backlight.edgeTick]);
  expect(() => loaded.load({})).toThrow(expect.objectContaining({ code: 'STATE_FIELD' }));
});
