import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { TIMINGS, ticksToSeconds } from '../../units/timing.ts';
import { Decays, type LightModes, Turns } from '../light-modes.ts';
import type { Phasor } from '../phasor.ts';
import { BandPass } from './band-pass.ts';
import { type EnvelopeStore, RectifiedCarrier } from './rectified-carrier.ts';

const timing = TIMINGS['60hz'];
const TICK = ticksToSeconds(timing, 1);
const TAU_S = [2e-7, 3e-5, 1e-3, 2e-2];

interface Drawn {
  readonly amplitudes: readonly number[];
  readonly swing: Phasor;
  readonly frequencyHz: number;
  readonly z: Phasor;
  readonly q: number;
  readonly store: EnvelopeStore;
  readonly envelope: number;
}

const size = fc.double({ min: -200, max: 200, noNaN: true });
const drawn: fc.Arbitrary<Drawn> = fc.record({
  amplitudes: fc.tuple(size, size, size, size),
  swing: fc.record({ re: size, im: size }),
  frequencyHz: fc.double({ min: 80, max: 140, noNaN: true }),
  z: fc.record({ re: size, im: size }),
  q: fc.double({ min: 0.7, max: 20, noNaN: true }),
  store: fc.record({
    dropCdM2: fc.double({ min: 0, max: 50, noNaN: true }),
    attackS: fc.double({ min: 1e-5, max: 2e-4, noNaN: true }),
    releaseS: fc.double({ min: 5e-5, max: 2e-3, noNaN: true }),
  }),
  envelope: fc.double({ min: 0, max: 200, noNaN: true }),
});

function built({ amplitudes, swing, frequencyHz, z, q, store, envelope }: Drawn) {
  const decays = new Decays(Float64Array.from(TAU_S), timing);
  const turns = new Turns(frequencyHz, Number.POSITIVE_INFINITY, timing);
  const bandPass = new BandPass(decays, timing, 15_745.8, q, turns);
  const light: LightModes = {
    constantCdM2: 30,
    amplitudeCdM2: Float64Array.from(amplitudes),
    swingCdM2: swing,
  };
  bandPass.rebase(light, z);
  const ways = [false, true].map((isCharging) => {
    const way = new RectifiedCarrier(bandPass, isCharging, store, timing);
    way.rebase(light, envelope);
    return way;
  });
  return { bandPass, draining: ways[0]!, charging: ways[1]! };
}

/** v after each of `count` ticks: Runge-Kutta with two ticks a step, the carrier taken from the band-pass. */
function integrated(drawing: Drawn, isCharging: boolean, count: number): number {
  const { bandPass } = built(drawing);
  const { dropCdM2, attackS, releaseS } = drawing.store;
  const slope = (ticks: number, v: number): number =>
    (isCharging ? (bandPass.at(ticks).re - dropCdM2 - v) / attackS : 0) - v / releaseS;
  let v = drawing.envelope;
  const h = 2 * TICK;
  for (let ticks = 0; ticks < count; ticks += 2) {
    const k1 = slope(ticks, v);
    const k2 = slope(ticks + 1, v + (h / 2) * k1);
    const k3 = slope(ticks + 1, v + (h / 2) * k2);
    const k4 = slope(ticks + 2, v + h * k3);
    v += (h / 6) * (k1 + 2 * k2 + 2 * k3 + k4);
  }
  return v;
}

describe('envelope of a rectified carrier', () => {
  test('both ways to be equal a Runge-Kutta integration', () => {
    const property = fc.property(drawn, (drawing) => {
      const { bandPass, draining, charging } = built(drawing);
      for (const [way, isCharging] of [
        [draining, false],
        [charging, true],
      ] as const) {
        const { envelope, excess } = way.at(3000);
        const expected = integrated(drawing, isCharging, 3000);
        expect(Math.abs(envelope - expected)).toBeLessThan(1e-5);
        expect(excess).toBeCloseTo(bandPass.at(3000).re - drawing.store.dropCdM2 - envelope, 8);
      }
    });
    fc.assert(property, { seed: 14, numRuns: 30 });
  });

  test('at the border both ways move alike: no chatter', () => {
    const property = fc.property(drawn, (drawing) => {
      const carrier = drawing.z.re - drawing.store.dropCdM2;
      const { draining, charging } = built({ ...drawing, envelope: carrier });
      const slopes = [draining, charging].map((way) => way.at(1).envelope - way.at(0).envelope);
      const largest = Math.abs(draining.at(1).excess) * (TICK / drawing.store.attackS) + 1e-9;
      expect(Math.abs(slopes[0]! - slopes[1]!)).toBeLessThanOrEqual(largest);
    });
    fc.assert(property, { seed: 15, numRuns: 200 });
  });

  test('the bounds hold at every tick of a span, and are close on short spans', () => {
    const property = fc.property(
      drawn,
      fc.integer({ min: 0, max: 3000 }),
      fc.integer({ min: 1, max: 20_000 }),
      (drawing, start, span) => {
        const { draining, charging } = built(drawing);
        for (const way of [draining, charging]) {
          const from = way.at(start);
          const { excessMin, excessMax, envelopeMin, envelopeMax } = way.bounds(from, way.at(start + span));
          for (let i = 1; i <= 200; i++) {
            const { excess, envelope } = way.at(start + Math.ceil((span * i) / 200));
            expect(excess).toBeLessThanOrEqual(excessMax);
            expect(excess).toBeGreaterThanOrEqual(excessMin);
            expect(envelope).toBeLessThanOrEqual(envelopeMax);
            expect(envelope).toBeGreaterThanOrEqual(envelopeMin);
          }
          const next = way.bounds(way.at(start + 2000), way.at(start + 2001));
          expect(next.excessMax - next.excessMin).toBeLessThan(1);
        }
      },
    );
    fc.assert(property, { seed: 16, numRuns: 150 });
  });
});
