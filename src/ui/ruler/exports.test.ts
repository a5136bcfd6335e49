import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { TIMINGS, ticksPerFrame, ticksToMs } from '../../units/timing.ts';
import type { ShotLanes } from '../../workers/play.api.ts';
import { lanesCsv, lanesVcd } from './exports.ts';
import type { Pen } from './pen.ts';
import { drawLooking, readRuns } from './program-lanes.ts';
import { rulerLayout } from './ruler-layout.ts';
import type { RulerColours, RulerView } from './ruler-view.ts';

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
        expect(dump.of('decision')).toEqual([]);
      }),
      { seed: 4, numRuns: 100 },
    );
  });

  test('it has the decision at its tick, and what was said as a comment', () => {
    const said = { ms: ms(TRIGGER + 900_000), text: 'target 0', isRight: true };
    const text = lanesVcd({ ...lanesWith([], []), said });
    expect(
      readVcd(text)
        .of('decision')
        .map(({ time }) => tickAt(time)),
    ).toEqual([TRIGGER + 900_000]);
    expect(text).toContain('$comment Decision: target 0 $end\n$timescale');
    // Every code is declared once before the values, and every line of them is one that the format has.
    const [head, body] = text.split('$enddefinitions $end\n') as [string, string];
    const codes = [...head.matchAll(/\$var \w+ \d+ (\S+) /g)].map(([, code]) => code!);
    expect(new Set(codes).size).toBe(codes.length);
    const value = new RegExp(`^(#\\d+|\\$dumpvars|\\$end|[01](${codes.join('|')})|b[01]+ (${codes.join('|')}))$`);
    for (const line of body.trimEnd().split('\n')) expect(line).toMatch(value);
  });
});

describe('comma-separated values', () => {
  const MARKS = [
    { name: 'trigger', title: 'trigger', ms: 0 },
    { name: 'crossing', title: 'threshold crossed, first', ms: ms(TRIGGER + 60_000) },
  ];
  const SAID = { ms: ms(TRIGGER + 900_000), text: 'target "0"', isRight: true };
  const FIELD = /(?:^|,)(?:"((?:[^"]|"")*)"|([^",]*))/g;
  /** Fields of each line; quotes as RFC 4180 has them. */
  const fields = (text: string) => {
    const lines = text.trimEnd().split('\r\n');
    return lines.map((line) =>
      [...line.matchAll(FIELD)].map(([, quoted, plain]) => quoted?.replaceAll('""', '"') ?? plain!),
    );
  };

  test('curves, frames, reads with what they saw, instants and the decision, in order of time', () => {
    const lanes = {
      ...lanesWith([TRIGGER + 50_000, TRIGGER + 70_000], [TRIGGER + 40_000, TRIGGER + 50_000, TRIGGER + 70_000]),
      pictures: [{ fromMs: 0, toMs: 1, isFlash: true, name: 'box 0' as const, frame: 41 }],
      said: SAID,
    };
    const [head, ...lines] = fields(lanesCsv(lanes, MARKS));
    expect(head).toEqual([
      ...['time_ms', 'light_least_cd_m2', 'light_largest_cd_m2', 'sensor_least_cd_m2', 'sensor_largest_cd_m2'],
      ...['threshold_cd_m2', 'bit', 'frame', 'event', 'detail'],
    ]);
    const at = (tick: number) => ms(tick).toFixed(6);
    const none = ['', '', '', '', ''];
    const [second, third] = lanes.clock.frameTicks.slice(1) as [number, number];
    expect(lines).toEqual([
      [at(START), '0.5', '1', '0', '0.25', '9', '0', '40', '', ''],
      [at(TRIGGER), ...none, '0', '40', 'instant', 'trigger'],
      [at(TRIGGER + 40_000), ...none, '0', '40', 'read', 'look'],
      [at(TRIGGER + 50_000), ...none, '1', '40', 'read', 'look'],
      [at(TRIGGER + 60_000), ...none, '1', '40', 'instant', 'threshold crossed, first'],
      [at(TRIGGER + 70_000), ...none, '0', '40', 'read', 'look'],
      [at(second), ...none, '0', '41', 'frame', 'box 0'],
      [at(third), ...none, '0', '42', 'frame', ''],
      [at(TRIGGER + 900_000), ...none, '0', '42', 'decision', 'target "0"'],
      [((ms(START) + ms(END)) / 2).toFixed(6), '2', '300', '1', '2', '9.5', '0', '42', '', ''],
    ]);
  });

  test('the bit is that at the begin of a column; a shot without a decision has no line of it', () => {
    const lines = fields(lanesCsv(lanesWith([TRIGGER], []), []));
    expect(lines.filter((line) => line[8] === '').map((line) => line[6])).toEqual(['0', '1']);
    expect(lines.some((line) => line[8] === 'decision')).toBe(false);
  });
});

describe('reads that saw light', () => {
  const PLACE = { x: 0, y: 0, width: 128, height: 16 };
  const SPAN = { fromMs: 0, toMs: 128 };
  const runs = (reads: readonly number[], from: number, to: number) =>
    readRuns(PLACE, { reads: Float64Array.from(reads), lit: [{ fromMs: from, toMs: to }] }, SPAN);

  test('are runs of their own: from the read at the flip to before the one at the flip back', () => {
    expect(runs([10, 11, 12, 13, 14, 40], 12, 14)).toEqual([
      { left: 10, right: 11, isLit: false },
      { left: 12, right: 13, isLit: true },
      { left: 14, right: 14, isLit: false },
      { left: 40, right: 40, isLit: false },
    ]);
  });

  test('are not lost among dark ones of the same pixel', () => {
    expect(runs([10, 10.2, 10.4], 10.1, 10.3)).toEqual([{ left: 10, right: 10.4, isLit: true }]);
  });

  test('have another shape and colour, and the name of the lane says which', () => {
    const shapes: string[] = [];
    const bars: string[] = [];
    const pen = {
      fill: (_: unknown, colour: string) => bars.push(colour),
      shape: (_: unknown, colour: string) => shapes.push(colour),
      hatch: () => {},
      text: () => {},
    } as unknown as Pen;
    const lane = rulerLayout(900).lanes.find(({ id }) => id === 'reads')!;
    const colours = { light: 'light', ink: 'ink', secondary: 'secondary', sheet: 'sheet' } as RulerColours;
    const lanes = lanesWith([TRIGGER + 500_000, TRIGGER + 600_000], [TRIGGER + 400_000, TRIGGER + 550_000]);
    drawLooking(pen, lane, { lanes, span: { fromMs: 0, toMs: ms(END) }, colours } as RulerView);
    expect(shapes).toEqual(['light']);
    expect(bars.filter((colour) => colour !== 'sheet')).toEqual(['ink', 'light']);
    expect(lane.name).toBe('reads · ▲ saw light');
  });
});
