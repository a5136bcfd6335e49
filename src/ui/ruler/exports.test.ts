import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { TIMINGS, ticksPerFrame, ticksToMs } from '../../units/timing.ts';
import type { ShotLanes } from '../../workers/play.api.ts';
import { lanesCsv, lanesVcd } from './exports.ts';

const TIMING = TIMINGS['60hz'];
const TRIGGER = 123_456_789;
const START = TRIGGER - 40_000;
const END = TRIGGER + 2_000_000;
const ms = (tick: number): number => ticksToMs(TIMING, tick - TRIGGER);

/** Lanes with a bit that flips at these ticks, and reads at those. */
function lanesWith(flips: readonly number[], reads: readonly number[]): ShotLanes {
  const lit = flips.flatMap((tick, i) => (i % 2 === 0 ? [{ fromMs: ms(tick), toMs: ms(flips[i + 1] ?? END) }] : []));
  return {
    fromMs: ms(START),
    toMs: ms(END),
    light: Float32Array.of(0.5, 1, 2, 300),
    sensor: Float32Array.of(0, 0.25, 1, 2),
    threshold: Float32Array.of(9, 9.5),
    lit,
    looking: [],
    reads: Float64Array.from(reads, ms),
    readCodes: new Uint16Array(reads.length),
    codes: ['look'],
    pictures: [],
    wire: new Float64Array(),
    said: null,
    clock: {
      timing: '60hz',
      triggerTick: TRIGGER,
      cpuPhaseTicks: 0,
      firstFrame: 40,
      frameTicks: [START - 5000, START - 5000 + ticksPerFrame(TIMING), START - 5000 + 2 * ticksPerFrame(TIMING)],
    },
  };
}

/** A reader of value change dumps that knows what it needs: names of the codes, and changes by time. */
function readVcd(text: string) {
  const names = new Map<string, string>();
  for (const [, code, name] of text.matchAll(/\$var \w+ \d+ (\S+) (\w+) \$end/g)) names.set(code!, name!);
  const [unit] = text.match(/(?<=\$timescale )\d+ \w+(?= \$end)/) ?? [];
  const changes: { name: string; time: number; value: string }[] = [];
  let time = 0;
  for (const token of text.slice(text.indexOf('$enddefinitions $end') + 20).split('\n')) {
    if (token.startsWith('#')) {
      const next = Number(token.slice(1));
      expect(next).toBeGreaterThanOrEqual(time);
      time = next;
    } else if (/^[01]\S/.test(token)) changes.push({ name: names.get(token.slice(1))!, time, value: token[0]! });
    else if (token.startsWith('b')) {
      const [value, code] = token.slice(1).split(' ') as [string, string];
      changes.push({ name: names.get(code)!, time, value });
    }
  }
  return { unit, of: (name: string) => changes.filter((change) => change.name === name), end: time };
}

/** From ps back to ticks since power-on. */
const tickAt = (time: number): number =>
  START + Math.round((time * TIMING.masterNumerator) / (TIMING.masterDenominator * 1e12));

describe('value change dump (IEEE Std 1364-2005, clause 18)', () => {
  test('read again it has the flips, reads and frames at their very ticks', () => {
    const ticks = fc.uniqueArray(fc.integer({ min: START + 1, max: END - 1 }), { maxLength: 40 });
    fc.assert(
      fc.property(ticks, ticks, (someFlips, someReads) => {
        const flips = someFlips.sort((a, b) => a - b);
        const reads = someReads.sort((a, b) => a - b);
        const dump = readVcd(lanesVcd(lanesWith(flips, reads)));
        expect(dump.unit).toBe('1 ps');
        const bits = dump.of('light_bit');
        expect(bits[0]).toEqual({ name: 'light_bit', time: 0, value: '0' });
        expect(bits.slice(1).map(({ time }) => tickAt(time))).toEqual(flips);
        expect(bits.slice(1).every(({ value }, i) => value === (i % 2 === 0 ? '1' : '0'))).toBe(true);
        expect(dump.of('port_read').map(({ time }) => tickAt(time))).toEqual(reads);
        expect(dump.of('trigger').map(({ time }) => tickAt(time))).toEqual([TRIGGER]);
        expect(dump.of('frame').map(({ value }) => Number.parseInt(value, 2))).toEqual([40, 41, 42]);
        expect(tickAt(dump.end)).toBe(END);
      }),
      { seed: 4, numRuns: 100 },
    );
  });
});

test('comma-separated values: a line a column, with the bit at its begin', () => {
  const lines = lanesCsv(lanesWith([TRIGGER], [])).split('\r\n');
  expect(lines[0]).toBe(
    'time_ms,light_least_cd_m2,light_largest_cd_m2,sensor_least_cd_m2,sensor_largest_cd_m2,threshold_cd_m2,bit',
  );
  expect(lines[1]).toBe(`${ms(START).toFixed(6)},0.5,1,0,0.25,9,0`);
  expect(lines[2]).toBe(`${((ms(START) + ms(END)) / 2).toFixed(6)},2,300,1,2,9.5,1`);
  expect(lines.slice(3)).toEqual(['']);
});
