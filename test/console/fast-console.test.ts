import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { hashNoise } from '../../src/units/noise.ts';
import { TIMINGS, type TimingId, ticksPerFrame } from '../../src/units/timing.ts';
import { expectEqual } from './equal-machines.ts';
import { type Machine, type MachineSetting, machineWith, programOf } from './machine.ts';

const TIMING_IDS: readonly TimingId[] = ['60hz', '50hz', '50hz-clone'];

/** Light that flickers without any pattern that a program could fall in step with. */
const surroundings = {
  readLight: (_: 1 | 2, tick: number): 0 | 1 => (hashNoise(3, 1, Math.floor(tick / 40_000)) < 0.3 ? 1 : 0),
  isTriggerClosed: (_: 1 | 2, tick: number) => Math.floor(tick / 2_000_000) % 2 === 1,
  buttons: (_: 1 | 2, tick: number) => Math.floor(hashNoise(3, 2, Math.floor(tick / 500_000)) * 256),
};

/** Both engines with the same program. */
const pairOf = (image: Uint8Array, setting: MachineSetting): [Machine, Machine] => [
  machineWith(image, { surroundings, ...setting, engine: 'reference' }),
  machineWith(image, { surroundings, ...setting, engine: 'fast' }),
];

describe('the fast console equals the reference', () => {
  const firstLight = new Uint8Array(readFileSync('homebrew-demo/first-light/first-light.bin'));
  test.each(TIMING_IDS)('First Light under flickering light, %s', (timing) => {
    for (let phase = 0; phase < 12; phase += 5) {
      const [reference, fast] = pairOf(firstLight, {
        timing,
        devices: ['pad', 'light sensor'],
        alignment: { cpuPhaseTicks: phase, putParity: phase % 2 === 0 ? 0 : 1 },
        request: { writes: [0x0003], fetches: [0x8000] },
      });
      const frame = ticksPerFrame(TIMINGS[timing]);
      for (let k = 1; k <= 12; k++) {
        const end = Math.floor(frame * (k + hashNoise(1, phase, k)));
        reference.console.runUntil(end);
        fast.console.runUntil(end);
        expectEqual(reference, fast);
      }
    }
  });

  test.each(Array.from({ length: 30 }, (_, seed) => seed))(
    'a random program that works on every register, seed %i',
    (seed) => {
      const timing = TIMING_IDS[seed % 3]!;
      const [reference, fast] = pairOf(randomProgram(seed), {
        timing,
        devices: seed % 2 === 0 ? ['pad', 'light sensor'] : ['light sensor', 'pad'],
        alignment: { cpuPhaseTicks: seed % 12, putParity: seed % 4 < 2 ? 0 : 1 },
        request: { writes: [0x0010, 0x0310], fetches: [0x8000, 0x8123], reads: [0x0320, 0x4017, 0x8050] },
      });
      const frame = ticksPerFrame(TIMINGS[timing]);
      for (let k = 1; k <= 10; k++) {
        const end = Math.floor(frame * (k + hashNoise(2, seed, k)));
        reference.console.runUntil(end);
        fast.console.runUntil(end);
        expectEqual(reference, fast);
      }
    },
  );

  test('a jam is told at its own tick, before the events of the frames after it', () => {
    const [reference, fast] = pairOf(programOf({ 32768: [0xa2, 0x40, 0xca, 0xd0, 0xfd, 0x02] }, {}), {});
    for (const machine of [reference, fast]) machine.console.runUntil(3 * ticksPerFrame(TIMINGS['60hz']));
    expectEqual(reference, fast);
    expect(fast.events.slice(0, 2).map((event) => event.kind)).toEqual(['frame-start', 'jam']);
  });

  test('states go from one engine to the other and back', () => {
    for (let seed = 100; seed < 106; seed++) {
      const image = randomProgram(seed);
      const setting = { timing: TIMING_IDS[seed % 3]!, devices: ['pad', 'light sensor'] as const };
      const [reference, fast] = pairOf(image, setting);
      const frame = ticksPerFrame(TIMINGS[setting.timing]);
      for (let k = 1; k <= 6; k++) {
        const end = Math.floor(frame * (k + hashNoise(4, seed, k)));
        reference.console.runUntil(end);
        fast.console.runUntil(end);
        const [a, b] = [structuredClone(reference.console.save()), structuredClone(fast.console.save())];
        reference.console.load(b);
        fast.console.load(a);
      }
      expectEqual(reference, fast);
    }
  });
});

/** A program without end: stores to and loads from registers, DMA, waits, memory traffic, in the main loop and in the NMI. */
function randomProgram(seed: number): Uint8Array {
  let count = 0;
  const draw = (below: number): number => Math.floor(hashNoise(77, seed, count++) * below);
  const byte = (): number => draw(256);
  const register = (): number => [0x2000, 0x2001, 0x2002, 0x2003, 0x2004, 0x2005, 0x2006, 0x2007][draw(8)]!;
  const absolute = (opcode: number, address: number): number[] => [opcode, address & 0xff, address >> 8];
  const pieces: (() => number[])[] = [
    () => [0xa9, byte(), ...absolute(0x8d, register())],
    () => [0xa9, 0x80 | draw(64), ...absolute(0x8d, 0x2000)],
    () => [0xa9, 0x1e, ...absolute(0x8d, 0x2001)],
    () => absolute(0xad, register()),
    () => absolute(0xad, draw(2) === 0 ? 0x4016 : 0x4017),
    () => [0xa9, draw(2), ...absolute(0x8d, 0x4016)],
    () => absolute(draw(2) === 0 ? 0xee : 0xce, [0x2007, 0x2000, 0x0310, 0x0320, 0x4016][draw(5)]!),
    () => [0xa2, byte(), ...absolute(0x9d, 0x1ff0), 0xa2, byte(), ...absolute(0xbd, 0x1ff8)],
    () => [0xa0, byte(), 0x91, 0x40, 0xb1, 0x42],
    () => [0xa2, 1 + draw(40), 0xca, 0xd0, 0xfd],
    () => [0xa9, byte(), 0x85, 0x10, 0xe6, 0x11, 0x06, 0x12],
    () => [0x48, 0x08, 0x68, 0x68],
    () => [0x2c, 0x02, 0x20, 0x10, 0xfb],
    () => absolute(0xad, 0x4015),
    () => absolute(0xad, 0x5000 + byte()),
    () => [0xa9, [0x02, 0x03, 0x80, 0x20, 0x40, 0x07][draw(6)]!, ...absolute(0x8d, 0x4014)],
    () => Array<number>(1 + draw(12)).fill(0xea),
  ];
  const stretch = (length: number): number[] => Array.from({ length }, () => pieces[draw(pieces.length)]!()).flat();
  const main = [0xa9, 0x03, 0x85, 0x41, 0xa9, 0x20, 0x85, 0x43, ...stretch(120), ...absolute(0x4c, 0x8008)];
  const handler = [0x48, ...stretch(6), 0x68, 0x40];
  const image = programOf({ 32768: main, 57344: handler }, { nmi: 0xe000 });
  for (let i = 16 + 0x8000; i < image.length; i++) image[i] = byte();
  return image;
}
