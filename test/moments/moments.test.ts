import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readMoment, scenarioFingerprint, writeMoment } from '../../src/shot/moment.ts';
import { Shot } from '../../src/shot/shot.ts';
import { ticksPerFrame } from '../../src/units/timing.ts';
import { firstLight } from '../first-light.ts';
import { runBuilt } from '../run-built.ts';

const prepared = firstLight({
  deadlineFrames: 6,
  shots: [{ aim: { x: 128, y: 112 }, atMs: 90 }],
  lightPath: { panel: { kind: 'lcd' }, stages: [{ kind: 'pure-delay', delayMs: 20 }] },
});
const inFlight = (): string => {
  const shot = new Shot(prepared, 0);
  shot.runUntil(shot.triggerTick + ticksPerFrame(prepared.timing));
  return writeMoment({ scenario: scenarioFingerprint(prepared), shot: 0, state: shot.save() });
};

test('1,000 random moments, each with a shot in flight or before it, go on identically for two frames and more', () => {
  // Runs the bundle that users run: save at a random tick, load into a fresh shot, compare two frames on and at the end.
  expect(runBuilt('test/moments/print-moments.ts', '1000')).toEqual({
    moments: 1000,
    different: 0,
    inFlight: expect.any(Number),
  });
});

describe('what is refused', () => {
  const text = inFlight();
  const refusal = (moment: string): string => {
    try {
      readMoment(moment, prepared, 0);
      return 'accepted';
    } catch (error) {
      return (error as Error).message;
    }
  };

  test('the moment itself is read', () => expect(refusal(text)).toBe('accepted'));

  test('a moment of another version', () => {
    expect(refusal(text.replace('"moment":1', '"moment":2'))).toBe('this is no usable moment: version 2, expected 1');
  });

  test('a moment of another scenario or image', () => {
    const other = firstLight({ lampY: 90, shots: [{ aim: { x: 128, y: 112 }, atMs: 90 }] });
    expect(() => readMoment(text, other, 0)).toThrow('it belongs to another scenario, image or shot');
  });

  test('any flipped bit', () => {
    const bytes = new TextEncoder().encode(text);
    fc.assert(
      fc.property(fc.nat(bytes.length - 1), fc.nat(6), (at, bit) => {
        const flipped = bytes.slice();
        flipped[at]! ^= 1 << bit;
        expect(refusal(new TextDecoder().decode(flipped))).toMatch(/^this is no usable moment: /);
      }),
      { numRuns: 300, seed: 4 },
    );
  });

  test.each(['', '{}', '[]', 'null', '{"moment":1}', '{"moment":1,"checksum":"0","body":{}}', text.slice(0, 5000)])(
    'the text %#',
    (broken) => {
      expect(refusal(broken)).toMatch(/^this is no usable moment: /);
    },
  );
});
