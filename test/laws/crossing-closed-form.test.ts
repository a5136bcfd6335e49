import { describe, expect, test } from 'vitest';
import { runShot } from '../../src/shot/shot.ts';
import { hashNoise } from '../../src/units/noise.ts';
import { firstLight } from '../first-light.ts';

// Everything below is computed from closed forms with Math.exp, apart from the project's light path: a black screen on
// which a white box of 24 x 24 dots appears row by row, seen through a Gaussian spot, a panel of one time constant, a
// one-pole sensor and its baseline of one second.

const TICK_S = 11 / 236.25e6;
const LINE = 1364;
const ROWS = 1080;
const [WHITE, BLACK, RADIUS, CORNER_HZ] = [250, 0.2, 6, 5000];

/** Unit step through cascaded one-pole low-passes of these (different) time constants. */
function cascadeStep(taus: readonly number[], t: number): number {
  if (t <= 0) return 0;
  const terms = taus.map((tau, k) => {
    const others = taus.filter((_, j) => j !== k).reduce((product, other) => product * (tau - other), 1);
    return (tau ** (taus.length - 1) / others) * Math.exp(-t / tau);
  });
  return 1 - terms.reduce((a, b) => a + b, 0);
}

const draw = (stream: number, i: number, low: number, high: number): number =>
  low + (high - low) * hashNoise(3, stream, i);

describe('crossing times of five random scenarios equal closed forms to one tick', () => {
  test.each([0, 1, 2, 3, 4])('scenario %i', (i) => {
    const lampY = Math.floor(draw(1, i, 20, 200));
    const delayMs = draw(2, i, 0, 120);
    const riseMs = draw(3, i, 0.8, 15);
    const scanMs = draw(4, i, 15.3, 16.6);
    const thresholdCdM2 = draw(5, i, 10, 120);
    const aim = { x: 128, y: lampY + 8 };
    const result = runShot(
      firstLight({
        isSceneBlack: true,
        lampY,
        deadlineFrames: 20,
        shots: [{ aim, atMs: 300 }],
        lightPath: {
          stages: [{ kind: 'pure-delay', delayMs }],
          panel: { kind: 'lcd', rows: ROWS, scanMs, riseMs, fallMs: 5, whiteCdM2: WHITE, blackCdM2: BLACK },
          room: { kind: 'constant-light', illuminanceLux: 0, diffuseReflectance01: 0 },
          optics: { kind: 'gaussian-spot', radiusDots: RADIUS },
          sensor: { kind: 'wide-band', cornerHz: CORNER_HZ, thresholdCdM2 },
        },
      }),
      0,
    );

    // The first white dot inside the cut of the spot, two radii from the aim, gives the start of the flash picture.
    const boxTop = lampY - 4;
    const firstRow = Math.max(boxTop, Math.floor(aim.y - 2 * RADIUS));
    const firstDot = Math.max(116, Math.floor(aim.x - 2 * RADIUS));
    const pictureTop = result.ticks.flashOnWire! - firstRow * LINE - firstDot * 4;

    // Share of the spot's weight that lies on the box, row by row of the panel.
    const sigma = RADIUS / Math.sqrt(2 * Math.log(2));
    const weight = (d: number): number => (Math.abs(d) <= 2 * RADIUS ? Math.exp(-(d * d) / (2 * sigma * sigma)) : 0);
    const dots = Array.from({ length: 600 }, (_, k) => k - 150);
    const across = dots.reduce((sum, x) => sum + weight(x + 0.5 - aim.x), 0);
    const boxAcross =
      dots.filter((x) => x >= 116 && x < 140).reduce((sum, x) => sum + weight(x + 0.5 - aim.x), 0) / across;
    const panelRows = Array.from({ length: 3 * ROWS }, (_, r) => r - ROWS);
    const heightOf = (r: number): number => ((r + 0.5) * 240) / ROWS;
    const down = panelRows.reduce((sum, r) => sum + weight(heightOf(r) - aim.y), 0);
    const scanTicks = Math.round(scanMs / 1000 / TICK_S);
    const delayTicks = Math.round(delayMs / 1000 / TICK_S);
    const steps = panelRows
      .filter((r) => Math.floor((r * 240) / ROWS) >= boxTop && Math.floor((r * 240) / ROWS) < boxTop + 24)
      .map((r) => ({
        tick: pictureTop + delayTicks + LINE + Math.round((r * scanTicks) / ROWS),
        height: ((WHITE - BLACK) * boxAcross * weight(heightOf(r) - aim.y)) / down,
      }));

    const panelTau = riseMs / 1000 / Math.log(9);
    const sensorTau = 1 / (2 * Math.PI * CORNER_HZ);
    const aboveBaseline = (tick: number): number =>
      steps.reduce((sum, { tick: start, height }) => {
        const t = (tick - start) * TICK_S;
        return sum + height * (cascadeStep([panelTau, sensorTau], t) - cascadeStep([panelTau, sensorTau, 1], t));
      }, 0);
    let [low, high] = [steps[0]!.tick, result.ticks.deadline];
    while (high - low > 1) {
      const middle = Math.floor((low + high) / 2);
      if (aboveBaseline(middle) > thresholdCdM2) high = middle;
      else low = middle;
    }
    expect(Math.abs(result.ticks.crossing! - high)).toBeLessThanOrEqual(1);
  });
});
