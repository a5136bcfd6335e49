import { describe, expect, test } from 'vitest';
import type { Surroundings } from '../../src/console/ports.ts';
import type { PictureHistory } from '../../src/picture/picture.ts';
import { hashNoise } from '../../src/units/noise.ts';
import {
  PICTURE_WIDTH,
  TIMINGS,
  type Timing,
  type TimingId,
  ticksPerFrame,
  ticksPerLine,
} from '../../src/units/timing.ts';
import { builtProgram, STRATEGIES } from '../lamplighter.ts';
import { expectEqual } from './equal-machines.ts';
import { eventsOf, type Machine, machineWith } from './machine.ts';

const START = 8;
/** Frames in which Start is held: it begins the game, makes a pause and goes on. */
const STARTS = [
  [24, 27],
  [62, 65],
  [72, 75],
] as const;
/** Frames in which the trigger is closed: to set the wand where the version asks for it, and at a lamp. */
const PULLS = [
  [36, 40],
  [96, 100],
] as const;
const FRAMES = 140;
/** No more than a comparison of pictures looks back. */
const STEP_FRAMES = 5;

/** The middle lamp of the first street. */
const AIM = { x: 132, y: 88 };
/** Frames after which the light sees a dot. */
const LATE_FRAMES = 2;
/** Ticks for which other light is there or not, and how often it is. */
const OTHER_TICKS = 40_000;
const OTHER_SHARE = 0.1;

const isWithin = (frames: readonly (readonly [number, number])[], frame: number): boolean =>
  frames.some(([from, to]) => frame >= from && frame < to);

/** A hand that does the same in every run, and a light bit: the dot at the aim was white two frames ago, or other light is there. */
class Player implements Surroundings {
  history!: PictureHistory;
  readonly #timing: Timing;

  constructor(timing: Timing) {
    this.#timing = timing;
  }

  isTriggerClosed(_port: 1 | 2, tick: number): boolean {
    return isWithin(PULLS, this.#frameOf(tick));
  }

  buttons(port: 1 | 2, tick: number): number {
    return port === 1 && isWithin(STARTS, this.#frameOf(tick)) ? START : 0;
  }

  readLight(_port: 1 | 2, tick: number): 0 | 1 {
    const code = this.history.get(this.#seenAt(tick))?.codes[AIM.y * PICTURE_WIDTH + AIM.x] ?? 0;
    return (code & 0x2f) === 0x20 || hashNoise(5, 1, Math.floor(tick / OTHER_TICKS)) < OTHER_SHARE ? 1 : 0;
  }

  lightConstantUntil(_port: 1 | 2, tick: number): number {
    const next = this.history.get(this.#seenAt(tick) + 1);
    if (next === undefined) return tick;
    const contacts = PULLS.flat().map((frame) => frame * ticksPerFrame(this.#timing));
    const others = (Math.floor(tick / OTHER_TICKS) + 1) * OTHER_TICKS;
    return Math.min(next.lineZeroTick + this.#late, others, ...contacts.filter((contact) => contact > tick));
  }

  get #late(): number {
    return LATE_FRAMES * ticksPerFrame(this.#timing) + AIM.y * ticksPerLine(this.#timing);
  }

  /** The latest picture whose dot at the aim has been seen. */
  #seenAt(tick: number): number {
    let index = this.history.newest;
    while (index >= 0 && this.history.get(index)!.lineZeroTick + this.#late > tick) index--;
    return index;
  }

  #frameOf(tick: number): number {
    return Math.floor(tick / ticksPerFrame(this.#timing));
  }
}

function machineOf(image: Uint8Array, timing: TimingId, engine: 'reference' | 'fast'): Machine {
  const player = new Player(TIMINGS[timing]);
  const machine = machineWith(image, {
    timing,
    engine,
    devices: ['pad', 'light sensor'],
    surroundings: {
      readLight: (port, tick) => player.readLight(port, tick),
      isTriggerClosed: (port, tick) => player.isTriggerClosed(port, tick),
      buttons: (port, tick) => player.buttons(port, tick),
      lightConstantUntil: (port, tick) => player.lightConstantUntil(port, tick),
    },
    takesPortReads: true,
  });
  player.history = machine.history;
  return machine;
}

describe('Lamplighter is the same on the fast console and on the reference, pictures to the byte', () => {
  test.each(STRATEGIES.map((strategy, i) => [strategy, Object.keys(TIMINGS)[i % 3] as TimingId] as const))(
    '%s, %s: a street is begun, shot at, paused and gone on with',
    (strategy, timing) => {
      const { image, symbols } = builtProgram(strategy);
      const [reference, fast] = [machineOf(image, timing, 'reference'), machineOf(image, timing, 'fast')];
      const frame = ticksPerFrame(TIMINGS[timing]);
      let reads = 0;
      const values = new Set<number>();
      for (let end = STEP_FRAMES; end <= FRAMES; end += STEP_FRAMES) {
        for (const machine of [reference, fast]) machine.console.runUntil(end * frame);
        expectEqual(reference, fast);
        for (const { port, value } of eventsOf(fast.events, 'port-read')) {
          if (port !== 2) continue;
          values.add(value & 0x18);
          reads++;
        }
        for (const { events } of [reference, fast]) events.length = 0;
      }
      // It was played: the wand was looked at, in light and in the dark, pulled or not, and oil was filled in or the wand set.
      expect(reads).toBeGreaterThan(200);
      expect([...values].sort((a, b) => a - b)).toEqual([0x00, 0x08, 0x10, 0x18]);
      const byte = (name: string, offset = 0): number => fast.console.peek(symbols.get(name)! + offset);
      expect(strategy === 'calibrated' ? byte('calibration') : byte('oil', 1)).toBeGreaterThan(0);
    },
    30_000,
  );
});
