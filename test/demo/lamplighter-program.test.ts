import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { TIMINGS, type TimingId, ticksPerFrame } from '../../src/units/timing.ts';
import { assembledProgram, builtProgram, LAMPLIGHTER, Lamplighter, STRATEGIES, screen } from '../lamplighter.ts';
import { costsOverDelays, span, strategyCosts } from './strategy-costs.ts';

const same = (_: string, text: string): string => text;
const CODES: Readonly<Record<TimingId, number>> = { '60hz': 0, '50hz': 1, '50hz-clone': 2 };
const ALL_TIMINGS = Object.keys(CODES) as TimingId[];

describe('the image', () => {
  test.each(STRATEGIES)(
    '%s: our assembler makes the image that is checked in, and its promised cycles hold',
    (strategy) => {
      const { image, errors, warnings, stretches } = assembledProgram(strategy, same);
      expect([errors, warnings]).toEqual([[], []]);
      expect(Buffer.compare(image!, readFileSync(`${LAMPLIGHTER}/${strategy}.bin`))).toBe(0);
      expect(stretches.length).toBeGreaterThanOrEqual(4);
    },
  );
});

describe('the timing is found', () => {
  const alignments = ALL_TIMINGS.flatMap((timing) =>
    Array.from({ length: TIMINGS[timing].cpuDivider * 2 }, (_, i) => [timing, i >> 1, (i & 1) as 0 | 1] as const),
  );

  test('on every timing from every alignment at power-on', () => {
    const program = builtProgram('same-frame-tested');
    for (const [timing, cpuPhaseTicks, putParity] of alignments) {
      const machine = new Lamplighter({ program, timing, alignment: { cpuPhaseTicks, putParity }, draws: NO_LINES });
      machine.runFrames(12);
      expect([timing, cpuPhaseTicks, putParity, machine.byte('timing')]).toEqual([
        timing,
        cpuPhaseTicks,
        putParity,
        CODES[timing],
      ]);
      expect(machine.byte('shotPace')).toBe(timing === '60hz' ? 30 : 25);
    }
    expect(alignments).toHaveLength(2 * (12 + 16 + 15));
  });

  test.each(ALL_TIMINGS)('%s: on the reference console, too', (timing) => {
    const machine = new Lamplighter({ timing, engine: 'reference' });
    machine.runFrames(12);
    expect(machine.byte('timing')).toBe(CODES[timing]);
  });
});

const NO_LINES = { firstLine: 0, lastLine: -1 };

describe('what a strategy costs', () => {
  test.each(STRATEGIES)('%s: handlers of one length, everything sent in time, reads close together', (strategy) => {
    for (const timing of ALL_TIMINGS) {
      const costs = strategyCosts(strategy, timing, 50);
      const [least, most] = costs.showCycles;
      expect(most - least).toBeLessThanOrEqual(1); // the sprite DMA waits a cycle or not
      expect(costs.showEndsAfterNmi).toBeLessThan(2200);
      expect(costs.longestGapUs).toBeLessThan(550);
      expect(costs.flashes).toBe(3);
    }
  });

  test('the calibrated one is undecided in always the same cycles, and its poll gap is the handler and one round', () => {
    const costs = strategyCosts('calibrated', '60hz', 120);
    expect(costs.decideCycles).toEqual([21, 21]);
    expect(costs.longestGapCycles).toBe(14 + 7 + 19 + 669 + 69);
    expect(costs.blackPictures).toBe(4); // B = 2 and the black slot
  });

  test('one NOP more in `show`: two cycles, and a gap that is 1.117 us longer at 60 Hz', () => {
    const longer = (path: string, text: string): string =>
      path.endsWith('frame.s')
        ? text
            .replace('show:   ldx scriptAt', 'show:   nop\n        ldx scriptAt')
            .replace(/^SHOW_CYCLES .*$/m, 'SHOW_CYCLES = 670')
        : text;
    const before = strategyCosts('calibrated', '60hz', 50);
    const after = strategyCosts('calibrated', '60hz', 50, longer);
    expect(after.showCycles[1] - before.showCycles[1]).toBe(2);
    expect(after.longestGapUs - before.longestGapUs).toBeCloseTo(1.117, 3);
    expect(after.romBytes).toBe(before.romBytes); // the NOP is not in the strategy's own files
  });

  test('a NOP without a new promise is refused by the assembler', () => {
    const longer = (path: string, text: string): string =>
      path.endsWith('frame.s') ? text.replace('show:   ldx scriptAt', 'show:   nop\n        ldx scriptAt') : text;
    expect(assembledProgram('calibrated', longer).errors[0]?.message).toContain('the note says 668 to 669');
  });
});

describe("the table of a strategy's page says what is measured", () => {
  test.each(STRATEGIES)('%s', (strategy) => {
    const page = readFileSync(`${LAMPLIGHTER}/strategies/${strategy}.md`, 'utf8');
    const rows = new Map([...page.matchAll(/^\| *(.*?) *\| (.*?) *\|$/gm)].map(([, title, cell]) => [title!, cell!]));
    const costs = costsOverDelays(strategy, '60hz');
    const { symbols } = assembledProgram(strategy, same);
    const only = (name: 'pictures' | 'blackPictures' | 'flashes'): number => {
      expect(costs[name]).toHaveLength(1);
      return costs[name][0]!;
    };
    const each = (only('pictures') - only('blackPictures')) / only('flashes');
    const isCalibrated = strategy === 'calibrated';
    const black = isCalibrated ? [only('blackPictures') - each, each, each] : [only('blackPictures'), each];
    const decides = isCalibrated
      ? [...costs.decideCycles, ...costs.verdictCycles]
      : span([...costs.decideCycles, ...costs.verdictCycles]);
    const ring = isCalibrated ? [2 * (symbols.get('ringY')! - symbols.get('ringX')!)] : [];
    const fixed = strategy === 'fixed-delay' ? [symbols.get('DELAY_FRAMES')!] : [];
    const expected = {
      '': [60, ...costs.delaysMs, ...fixed],
      pictures: [...black, only('pictures')],
      verdict: costs.framesToDecide.flatMap((frames, i) => [Math.floor(frames), costs.delaysMs[i]!]),
      '`show` with its sprite DMA': [...costs.showCycles, ...costs.showEndsAfterNmi],
      'longest time between two reads': [...costs.longestGapCycles, ...costs.longestGapUs.map(Math.round)],
      '`decide`': decides,
      size: [...costs.romBytes, ...costs.ramBytes, ...ring],
    };
    expect([...rows.keys()].filter((title) => !/^-+$/.test(title))).toEqual(Object.keys(expected));
    for (const [title, numbers] of Object.entries(expected))
      expect([title, numbersOf(rows.get(title)!)]).toEqual([title, numbers]);
    // Aimed at none: any verdict but none is a false hit, and said to be one behind its delay.
    const falseHits = costs.delaysMs.filter((_, i) => costs.verdict[i] !== 0);
    expect(
      [...rows.get('verdict')!.matchAll(/(\d+) ms \(a false hit\)/g)].map(([, delayMs]) => Number(delayMs)),
    ).toEqual(falseHits);
  });
});

/** The numbers of a text, `2,691` being one. */
const numbersOf = (text: string): number[] =>
  [...text.matchAll(/\d+(,\d{3})*/g)].map(([digits]) => Number(digits.replaceAll(',', '')));

describe('pace', () => {
  test.each(ALL_TIMINGS)('%s: no shot within the pace, none within 5 frames after the last', (timing) => {
    const shows: number[] = [];
    const program = builtProgram('same-frame-tested');
    const plan = program.symbols.get('plan')!;
    const verdict = program.symbols.get('verdict')!;
    const ends: number[] = [];
    const machine: Lamplighter = new Lamplighter({
      program,
      timing,
      draws: NO_LINES,
      request: { fetches: [plan], writes: [verdict] },
      onEvent: ({ kind, tick }) => {
        if (kind === 'fetch') shows.push(tick);
        if (kind === 'write') ends.push(tick);
      },
    });
    machine.startPractice();
    ends.length = 0;
    for (let i = 0; i < 400; i++) {
      machine.trigger = i % 3 === 0; // a trembling finger
      machine.runFrames(1);
    }
    const frames = (ticks: number): number => ticks / ticksPerFrame(machine.timing);
    const apart = shows.slice(1).map((tick, i) => frames(tick - shows[i]!));
    expect(shows.length).toBeGreaterThan(8);
    expect(Math.min(...apart)).toBeGreaterThan((timing === '60hz' ? 30 : 25) - 0.1);
    expect(Math.max(...apart)).toBeLessThan(40);
    for (let i = 1; i < shows.length; i++) expect(frames(shows[i]! - ends[i - 1]!)).toBeGreaterThan(4.9);
  });

  test('none within a second after a calibration', () => {
    const machine = new Lamplighter({ path: screen(50), aim: { x: 128, y: 120 } });
    machine.startPractice();
    machine.pull();
    machine.runUntil(() => machine.byte('calibration') === 2, 400);
    for (let frame = 0; frame < 54; frame++) {
      machine.trigger = frame % 8 < 4;
      machine.runFrames(1);
      expect(machine.says('THE WAND IS SET') || frame < 4).toBe(true);
    }
    machine.trigger = false;
    machine.runFrames(10);
    machine.pull();
    machine.runFrames(10);
    expect(machine.says('PRACTICE')).toBe(true);
  });
});
