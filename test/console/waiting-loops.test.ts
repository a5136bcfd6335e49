import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { FastConsole } from '../../src/console/fast/fast-console.ts';
import type { Surroundings } from '../../src/console/ports.ts';
import type { TraceRequest } from '../../src/trace/trace.ts';
import { hashNoise } from '../../src/units/noise.ts';
import { TIMINGS, type TimingId, ticksPerFrame } from '../../src/units/timing.ts';
import { expectEqual } from './equal-machines.ts';
import { type Machine, type MachineSetting, machineWith, programOf } from './machine.ts';
import { waitingProgram } from './waiting-programs.ts';

const FRAMES = 14;
const SEED = 20_240_601;

/** Light and trigger that change at random ticks, known ahead; sometimes less is told than is known. */
function knownLight(seed: number, litShare = 0.3): Surroundings {
  const length = 2_000 + Math.floor(hashNoise(seed, 9, 0) * 120_000);
  const isLit = (port: 1 | 2, block: number): boolean => hashNoise(seed, port, block) < litShare;
  const isClosed = (port: 1 | 2, block: number): boolean => hashNoise(seed, 2 + port, block) < 0.4;
  const blockOf = (tick: number): number => Math.floor(tick / length);
  return {
    readLight: (port, tick) => (isLit(port, blockOf(tick)) ? 1 : 0),
    isTriggerClosed: (port, tick) => isClosed(port, blockOf(tick)),
    buttons: (_, tick) => Math.floor(hashNoise(seed, 5, Math.floor(tick / 500_000)) * 256),
    lightConstantUntil(port, tick) {
      const now = blockOf(tick);
      const last = now + 1 + Math.floor(hashNoise(seed, 6, tick) * 6);
      let block = now + 1;
      while (block < last && isLit(port, block) === isLit(port, now) && isClosed(port, block) === isClosed(port, now))
        block++;
      return block * length;
    },
  };
}

interface Case {
  readonly program: number;
  readonly timing: TimingId;
  readonly phase: number;
  readonly putParity: 0 | 1;
  readonly ports: number;
  readonly asks: number;
  readonly takesPortReads: boolean;
}

const CASE: fc.Arbitrary<Case> = fc.record({
  program: fc.integer({ min: 0, max: 1_000_000 }),
  timing: fc.constantFrom<TimingId>('60hz', '50hz', '50hz-clone'),
  phase: fc.nat(100),
  putParity: fc.constantFrom<0 | 1>(0, 1),
  ports: fc.nat(3),
  asks: fc.nat(5),
  takesPortReads: fc.boolean(),
});

const DEVICES = [
  ['pad', 'light sensor'],
  ['light sensor', 'pad'],
  ['none', 'light sensor'],
  ['light sensor', 'light sensor'],
] as const;

/** Addresses that somebody wants to be told of; some lie in loops or are what they look at. */
const requestOf = (asks: number, program: number): Partial<TraceRequest> => {
  const somewhere = (i: number): number => 0x8040 + Math.floor(hashNoise(program, 7, i) * 0x400);
  if (asks === 1) return { fetches: Array.from({ length: 12 }, (_, i) => somewhere(i)) };
  if (asks === 2) return { reads: [0x4017, 0x2002] };
  if (asks === 3) return { writes: [0x0001, 0x0345] };
  if (asks === 4) return { reads: [0x0345, somewhere(3)] };
  return {};
};

const settingOf = ({ program, timing, phase, putParity, ports, asks }: Case): MachineSetting => ({
  timing,
  surroundings: knownLight(program),
  devices: DEVICES[ports]!,
  alignment: { cpuPhaseTicks: phase % TIMINGS[timing].cpuDivider, putParity },
  request: requestOf(asks, program),
});

const skippedCycles = ({ console }: Machine): number => (console as FastConsole).skippedCycles;

/** Run both to the same random ticks and compare them there. */
function runBoth(one: Machine, other: Machine, { program, timing }: Case, frames: number): void {
  const frame = ticksPerFrame(TIMINGS[timing]);
  for (let k = 1; k <= frames; k++) {
    const end = Math.floor(frame * (k + hashNoise(8, program, k)));
    one.console.runUntil(end);
    other.console.runUntil(end);
    expectEqual(one, other);
    one.events.length = 0;
    other.events.length = 0;
  }
}

/** Waits for two vblanks until registers take writes, turns the NMI on and goes round in `body`; NMI: inc $10. */
const loopProgram = (body: readonly number[]): Uint8Array =>
  programOf(
    {
      32768: [...WAIT_VBLANK, ...WAIT_VBLANK, 0xa9, 0x80, 0x8d, 0x00, 0x20, ...body, 0x4c, 0x0f, 0x80],
      57344: [0xe6, 0x10, 0x40],
    },
    { nmi: 0xe000 },
  );
const WAIT_VBLANK = [0x2c, 0x02, 0x20, 0x10, 0xfb];
const CLEAR_FLAG = [0xa9, 0x00, 0x85, 0x10];
const LOOK = [0xad, 0x17, 0x40, 0x29, 0x08, 0xf0];

describe('waiting loops are skipped exactly', () => {
  test.each([
    ['a flag in memory', 0.95, [...CLEAR_FLAG, 0xa5, 0x10, 0xf0, 0xfc]],
    ['the status register', 0.95, WAIT_VBLANK],
    ['the light port until a flag', 0.9, [...CLEAR_FLAG, ...LOOK, 0x04, 0xa5, 0x10, 0xf0, 0xf5]],
    ['the light port, counted', 0.85, [0xa2, 0x00, ...LOOK, 0x03, 0xca, 0xd0, 0xf6]],
    ['nothing at all', 0.95, [0x4c, 0x0f, 0x80]],
  ])('a loop on %s, on every alignment: most of it is skipped', (_, share, body) => {
    const image = loopProgram(body);
    for (const timing of ['60hz', '50hz', '50hz-clone'] as const) {
      for (let i = 0; i < 2 * TIMINGS[timing].cpuDivider; i++) {
        const draw: Case = {
          program: i,
          timing,
          phase: i >> 1,
          putParity: i % 2 === 0 ? 0 : 1,
          ports: 0,
          asks: 0,
          takesPortReads: false,
        };
        const surroundings = knownLight(i, 0);
        const setting = { ...settingOf(draw), surroundings, engine: 'fast' } as const;
        const skipping = machineWith(image, setting);
        runBoth(machineWith(image, { ...setting, skipsLoops: false }), skipping, draw, 6);
        expect(skippedCycles(skipping) / skipping.console.save().cycle).toBeGreaterThan(share);
      }
    }
  });

  test('random programs: equal to running every round, in state, clock, trace and picture', () => {
    let skipped = 0;
    let all = 0;
    const check = fc.property(CASE, (draw) => {
      const image = waitingProgram(draw.program);
      const setting = settingOf(draw);
      const skipping = machineWith(image, { ...setting, engine: 'fast', takesPortReads: draw.takesPortReads });
      const plain = machineWith(image, { ...setting, engine: 'fast', skipsLoops: false });
      runBoth(plain, skipping, draw, FRAMES);
      expect(skippedCycles(plain)).toBe(0);
      skipped += skippedCycles(skipping);
      all += skipping.console.save().cycle;
    });
    fc.assert(check, { seed: SEED, numRuns: 400 });
    expect(skipped / all).toBeGreaterThan(0.3);
  });

  test('random programs: equal to the reference engine', () => {
    const check = fc.property(CASE, (draw) => {
      const image = waitingProgram(draw.program);
      const setting = settingOf(draw);
      const reference = machineWith(image, { ...setting, engine: 'reference' });
      runBoth(reference, machineWith(image, { ...setting, engine: 'fast' }), draw, 8);
    });
    fc.assert(check, { seed: SEED + 1, numRuns: 30 });
  });
});
