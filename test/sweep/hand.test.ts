import { describe, expect, test } from 'vitest';
import { HANDS, handMoves } from '../../src/shot/hand.ts';
import { readModel } from '../../src/shot/light-path-settings.ts';
import { msToTicks, TIMINGS, ticksToMs } from '../../src/units/timing.ts';

const timing = TIMINGS['60hz'];
const AIM = { x: 100, y: 90 };
const trigger = 500 * 21477 + 123;
const hand = (setting: Readonly<Record<string, unknown>>) =>
  readModel(HANDS, { kind: 'swaying-hand', ...setting }, 'hand', []);
const moves = (setting: Readonly<Record<string, unknown>>, shot: number, ms = 400, seed = 5) =>
  handMoves(hand(setting), AIM, trigger, trigger + msToTicks(timing, ms), { seed, shot }, timing);

/** Displacement in dots of many shots, `ms` after the trigger at most one move late. */
function displacements(
  setting: Readonly<Record<string, unknown>>,
  ms: number,
  shots: number,
): { x: number[]; y: number[] } {
  const last = Array.from({ length: shots }, (_, shot) => moves(setting, shot, ms).at(-1)!.aim);
  return { x: last.map(({ x }) => x - AIM.x), y: last.map(({ y }) => y - AIM.y) };
}
const deviation = (values: readonly number[]): number =>
  Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);
/** How far a last move after `ms` really lies behind the trigger, ms. */
const lastMs = (ms: number): number => ticksToMs(timing, moves({}, 0, ms).at(-1)!.tick - trigger);

const DOTS_PER_DEGREE = (1000 * Math.PI) / 180 / 0.857;

describe('the hand that sways', () => {
  test('moves at points of the noise grid, 1,074 ticks from power-on, from the trigger on', () => {
    const ticks = moves({}, 0).map(({ tick }) => tick);
    expect(ticks[0]).toBeGreaterThan(trigger);
    expect(ticks.every((tick) => tick % 1074 === 0)).toBe(true);
    expect(ticks.length).toBe(48); // 400 ms / 8.3 ms
  });

  test('depends on seed and shot alone, not on how far it is followed', () => {
    expect(moves({}, 3, 100)).toEqual(moves({}, 3, 400).slice(0, moves({}, 3, 100).length));
    expect(moves({}, 3)).not.toEqual(moves({}, 4));
    expect(moves({}, 3, 400, 6)).not.toEqual(moves({}, 3));
  });

  // Derived: an Ornstein-Uhlenbeck process moves by sigma sqrt(2 (1 - exp(-t / tau))) in t.
  test('drift over 50 ms and 400 ms: 0.0557 and 0.140 degrees at sigma 0.15, tau 0.7 s', () => {
    const moved = (ms: number): number => Math.sqrt(2 * (1 - Math.exp(-ms / 700)));
    for (const [ms, degrees] of [
      [50, 0.0557],
      [400, 0.14],
    ] as const) {
      const { x, y } = displacements({ armDeg: 0, tremorDeg: 0 }, ms, 4000);
      // The last move lies a little before the end.
      const whole = moved(ms) / moved(lastMs(ms));
      for (const axis of [x, y]) expect(((deviation(axis) / DOTS_PER_DEGREE) * whole) / degrees).toBeCloseTo(1, 1);
    }
  });

  // Derived: position of a noise-driven resonator, correlation exp(-w t / 2Q) (cos v t + sin v t / sqrt(4 Q^2 - 1)).
  test.each([
    ['armDeg', 3.5, 60],
    ['armDeg', 3.5, 200],
    ['tremorDeg', 9.5, 60],
    ['tremorDeg', 9.5, 200],
  ] as const)('%s at %d Hz over %d ms moves as its correlation says', (name, hz, ms) => {
    const quality = 4;
    const w = 2 * Math.PI * hz;
    const t = lastMs(ms) / 1000;
    const v = w * Math.sqrt(1 - 1 / (4 * quality * quality));
    const correlation =
      Math.exp((-w * t) / (2 * quality)) * (Math.cos(v * t) + Math.sin(v * t) / Math.sqrt(4 * quality * quality - 1));
    const still = { driftDeg: 0, armDeg: 0, tremorDeg: 0 };
    const { x } = displacements({ ...still, [name]: 0.1 }, ms, 6000);
    expect(deviation(x) / DOTS_PER_DEGREE / (0.1 * Math.sqrt(2 * (1 - correlation)))).toBeCloseTo(1, 1);
  });

  test('the step at the pull is 0.3 degrees in 150 ms, in every direction', () => {
    const still = { preset: 'braced-pull', driftDeg: 0, armDeg: 0, tremorDeg: 0 };
    const { x, y } = displacements(still, 200, 400);
    for (let shot = 0; shot < 400; shot++)
      expect(Math.hypot(x[shot]!, y[shot]!) / DOTS_PER_DEGREE).toBeCloseTo(0.3, 10);
    const half = displacements(still, 75, 1);
    expect(Math.hypot(half.x[0]!, half.y[0]!) / DOTS_PER_DEGREE).toBeCloseTo((0.3 * lastMs(75)) / 150, 10);
    // Half of the directions to the left, half up, within four standard errors.
    for (const axis of [x, y]) expect(Math.abs(axis.filter((value) => value < 0).length - 200)).toBeLessThan(40);
  });

  test('braced halves the hand', () => {
    const [one, braced] = [
      displacements({ preset: 'one-handed' }, 250, 500),
      displacements({ preset: 'braced' }, 250, 500),
    ];
    for (let i = 0; i < 500; i++) expect(braced.x[i]! * 2).toBeCloseTo(one.x[i]!, 9);
    // What the margin of a box is for: one standard deviation over a shot of 250 ms, three dots.
    expect(deviation(one.x)).toBeGreaterThan(2.5);
    expect(deviation(one.x)).toBeLessThan(3.3);
  });
});
