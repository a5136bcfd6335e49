import { TIMINGS, ticksPerFrame, ticksToMs } from '../../src/units/timing.ts';
import type { ShotLanes, ShotMark } from '../../src/workers/play.api.ts';

const TIMING = TIMINGS['60hz'];
const FRAME_MS = ticksToMs(TIMING, ticksPerFrame(TIMING));
const TRIGGER = 30_000_000;
export const RULER_MARKS: readonly ShotMark[] = [
  { name: 'trigger', title: 'trigger', ms: 0 },
  { name: 'flashOnWire', title: 'flash leaves the console', ms: 2 * FRAME_MS + 3 },
  { name: 'crossing', title: 'threshold crossed', ms: 90 },
  { name: 'lastRead', title: 'last read before it decided', ms: 55 },
  { name: 'decision', title: 'decision', ms: 56 },
];

/** Lanes of a shot of 12 frames with so many columns, dark but for one sample, reads every 10 us for three frames. */
export function rulerLanes(columns: number, spike: number): ShotLanes {
  const light = new Float32Array(2 * columns).fill(1);
  light.fill(100, 2 * spike, 2 * spike + 2);
  const frame = (k: number): number => (k - 1) * FRAME_MS;
  return {
    fromMs: frame(0),
    toMs: frame(12),
    light,
    sensor: light.slice(),
    threshold: new Float32Array(columns).fill(50),
    lit: [{ fromMs: 90, toMs: 110 }],
    looking: [{ fromMs: 5, toMs: 55 }],
    reads: Float64Array.from({ length: 5001 }, (_, k) => 5 + k / 100),
    readCodes: new Uint16Array(5001),
    codes: ['look+5'],
    pictures: Array.from({ length: 12 }, (_, k) => ({
      fromMs: frame(k),
      toMs: frame(k + 1),
      isFlash: k === 3,
      name: k === 2 ? 'black' : k === 3 ? 'box 0' : 'scene',
      frame: 80 + k,
    })),
    wire: Float64Array.of(frame(3) + 3, frame(3) + 3.5, 1),
    said: { ms: 56, text: 'none', isRight: false },
    clock: {
      timing: '60hz',
      triggerTick: TRIGGER,
      cpuPhaseTicks: 0,
      firstFrame: 80,
      frameTicks: Array.from({ length: 12 }, (_, k) => TRIGGER + (k - 1) * ticksPerFrame(TIMING)),
    },
  };
}
