import { describe, expect, test } from 'vitest';
import { msToTicks, TIMINGS as TIMING_OF, type TimingId, ticksPerFrame, ticksPerLine } from '../../src/units/timing.ts';
import { Lamplighter, type LamplighterSetup, type LightRule, screen } from '../lamplighter.ts';

const TIMINGS: readonly TimingId[] = ['60hz', '50hz', '50hz-clone'];
const CENTRE = { x: 128, y: 120 };

/** Power on with Select held, aim at the mark, pull, and wait for what the screen says. */
function calibrated(setup: LamplighterSetup, beforePullMs = 400): Lamplighter {
  const machine = new Lamplighter({ strategy: 'calibrated', ...setup });
  machine.startPractice(beforePullMs);
  machine.pull();
  machine.runUntil(() => machine.byte('calibration') >= 2, 400);
  machine.runFrames(10);
  return machine;
}

/** Light that follows the console's picture at one dot, some time later; the delay may change with time. */
function follows(delayMsAt: (machine: Lamplighter, tick: number) => number): LightRule {
  return (tick, machine) =>
    machine.codeSentAt(tick - msToTicks(machine.timing, delayMsAt(machine, tick)), CENTRE) === 0x20;
}

describe('calibration on a screen', () => {
  test.each(
    TIMINGS.flatMap((timing) =>
      [0, 1, 14.3, 32, 50, 75, 133, 200, 333, 500].map((delayMs) => [timing, delayMs] as const),
    ),
  )('%s, LCD %s ms late: the delay is found', (timing, delayMs) => {
    const machine = calibrated({ timing, path: screen(delayMs), aim: CENTRE }, 400 + delayMs);
    expect(machine.byte('calibration')).toBe(2);
    const foundMs = (machine.word('delayUnits') * 8 * ticksPerLine(machine.timing)) / msToTicks(machine.timing, 1);
    // The panel adds its rise to the threshold, and its scan differs from the console's by up to 0.7 ms at the centre.
    expect(foundMs - delayMs).toBeGreaterThan(-0.6);
    expect(foundMs - delayMs).toBeLessThan(2.3);
    const { linesPerFrame } = machine.timing;
    const lines = machine.word('delayUnits') * 8;
    expect(machine.says(`THE SCREEN IS ${Math.floor(lines / linesPerFrame)} FRAMES`)).toBe(true);
    expect(machine.says(`AND ${lines % linesPerFrame} SCANLINES LATE`)).toBe(true);
  });

  test.each(TIMINGS)('%s, tube: no delay, and gaps of nearly a frame are bridged', (timing) => {
    const machine = calibrated({ timing, path: screen(0, { kind: 'beam-tube' }), aim: CENTRE });
    expect(machine.byte('calibration')).toBe(2);
    expect(machine.word('delayUnits')).toBe(0);
    expect(machine.byte('blackFrames')).toBe(2);
    const frameSlots = ticksPerFrame(machine.timing) / machine.timing.cpuDivider / 14;
    expect(machine.word('gapBridge')).toBeGreaterThan(0.7 * frameSlots);
    expect(machine.word('gapBridge')).toBeLessThan(1.2 * frameSlots);
    expect(machine.says('THE SCREEN IS 0 FRAMES')).toBe(true);
  });

  test.each(TIMINGS)('%s: two white pulses, 3 and 4 pictures, the second 41 (34) frames after the first', (timing) => {
    const white: number[] = [];
    const machine = calibrated({
      timing,
      path: screen(120),
      aim: CENTRE,
      onEvent: (event) => {
        const isData = event.kind === 'register-write' && event.address === 0x2007;
        if (isData && event.value === 0x20 && event.tick > msToTicks(TIMING_OF[timing], 800)) white.push(event.tick);
      },
    });
    const frames = white.map((tick) => Math.round((tick - white[0]!) / ticksPerFrame(machine.timing)));
    const again = timing === '60hz' ? 41 : 34;
    expect(frames).toEqual([0, 1, 2, again, again + 1, again + 2, again + 3]);
  });

  test('a screen that fades slowly gets more black pictures', () => {
    const machine = calibrated({ path: screen(50, { kind: 'lcd', fallMs: 25 }), aim: CENTRE });
    expect(machine.byte('calibration')).toBe(2);
    expect(machine.byte('blackFrames')).toBe(3);
  });
});

describe('a calibration that is refused says why', () => {
  const frames = (machine: Lamplighter, count: number): number => count * ticksPerFrame(machine.timing);

  test.each(TIMINGS)('%s: other light than the screen', (timing) => {
    const machine = calibrated({ timing, light: () => true });
    expect(machine.byte('calibration')).toBe(0x81);
    expect(machine.says('OTHER LIGHT THAN THE SCREEN')).toBe(true);
  });

  test.each(TIMINGS)('%s: pulse of wrong length, a panel that takes too long to fade', (timing) => {
    const machine = calibrated({ timing, path: screen(50, { kind: 'lcd', fallMs: 180 }), aim: CENTRE });
    expect(machine.byte('calibration')).toBe(0x82);
    expect(machine.says('PULSE OF WRONG LENGTH')).toBe(true);
  });

  test('pulse of wrong length: a lamp that is switched on stays lit', () => {
    const machine = calibrated({ light: (tick, { timing }) => tick > msToTicks(timing, 1100) });
    expect(machine.byte('calibration')).toBe(0x82);
    expect(machine.says('PULSE OF WRONG LENGTH')).toBe(true);
  });

  test('pulse of wrong length: two flashes are not one', () => {
    const twice = follows(() => 50);
    const late = follows(() => 150);
    const machine = calibrated({ light: (tick, it) => twice(tick, it) || late(tick, it) });
    expect(machine.byte('calibration')).toBe(0x82);
  });

  test.each(TIMINGS)('%s: delay not constant, with both values', (timing) => {
    const light = follows((_, tick) => (tick < msToTicks(TIMING_OF[timing], 1400) ? 50 : 54));
    const machine = calibrated({ timing, light });
    expect(machine.byte('calibration')).toBe(0x83);
    expect(machine.says('DELAY NOT CONSTANT')).toBe(true);
    const match = /^(\d+) MS, THEN (\d+) MS$/.exec(machine.text().find((row) => row.includes('THEN')) ?? '');
    expect(Number(match?.[2]) - Number(match?.[1])).toBeGreaterThanOrEqual(3);
    expect(Number(match?.[2]) - Number(match?.[1])).toBeLessThanOrEqual(5);
  });

  test('a delay that changes by 1 ms is constant enough', () => {
    const machine = calibrated({ light: follows((_, tick) => (tick < msToTicks(TIMING_OF['60hz'], 1400) ? 50 : 51)) });
    expect(machine.byte('calibration')).toBe(2);
  });

  test.each(TIMINGS)("%s: light that is not the screen's, a lamp whose phase comes back", (timing) => {
    let first = -1;
    const machine = calibrated({
      timing,
      light: (tick, it) => {
        if (first < 0 && it.byte('calibration') === 1) first = tick + frames(it, 12);
        const sinceFirst = first < 0 ? -1 : tick - first;
        const period = frames(it, timing === '60hz' ? 41 : 34);
        return sinceFirst >= 0 && sinceFirst % period < frames(it, 3);
      },
    });
    expect(machine.byte('calibration')).toBe(0x84);
    expect(machine.says("LIGHT THAT IS NOT THE SCREEN'S")).toBe(true);
    expect(machine.text().some((row) => /^\d+ MS, THEN \d+ MS$/.test(row))).toBe(true);
  });

  test.each(TIMINGS)('%s: delay too long for the ring', (timing) => {
    const machine = calibrated({ timing, path: screen(800), aim: CENTRE }, 1500);
    expect(machine.byte('calibration')).toBe(0x85);
    expect(machine.says('DELAY TOO LONG FOR THE RING')).toBe(true);
  });

  test.each([560, 580, 600, 620, 640, 660, 680, 700])('60 Hz, %s ms: found or too long, nothing else', (delayMs) => {
    const machine = calibrated({ path: screen(delayMs), aim: CENTRE }, 1500);
    expect([2, 0x85]).toContain(machine.byte('calibration'));
    if (delayMs <= 580) expect(machine.byte('calibration')).toBe(2);
    if (delayMs >= 660) expect(machine.byte('calibration')).toBe(0x85);
  });

  test.each([0.05, 0.11, 0.2, 0.31, 0.5, 1, 2.0875, 4, 8.3198])(
    'light that flickers every %s ms is refused, and never holds the program',
    (periodMs) => {
      let from = Number.POSITIVE_INFINITY;
      const flickers = (tick: number, it: Lamplighter): boolean =>
        tick > from && Math.floor((2 * tick) / msToTicks(it.timing, periodMs)) % 2 === 0;
      const machine = new Lamplighter({ light: flickers });
      machine.startPractice();
      from = machine.tick + msToTicks(machine.timing, 400); // after the first white pulse, long before the second
      machine.pull();
      machine.runFrames(200);
      expect(machine.byte('calibration')).toBeGreaterThan(0x80);
      expect(machine.says('THE WAND COULD NOT BE SET')).toBe(true);
    },
  );

  test('no light at all', () => {
    const machine = calibrated({});
    expect(machine.byte('calibration')).toBe(0x86);
    expect(machine.says('NO LIGHT FROM THE SCREEN')).toBe(true);
  });

  test('after a refusal a pull tries again, not within a second', () => {
    let isBlinded = true;
    const machine = calibrated({ light: (tick, it) => isBlinded || follows(() => 50)(tick, it) });
    expect(machine.byte('calibration')).toBe(0x81);
    isBlinded = false;
    machine.pull();
    machine.runFrames(10);
    expect(machine.says('OTHER LIGHT THAN THE SCREEN')).toBe(true);
    machine.runMs(1000);
    machine.pull(); // back to the mark
    machine.runMs(600);
    machine.pull();
    expect(machine.runUntil(() => machine.byte('calibration') === 2, 200)).toBe(true);
  });
});
