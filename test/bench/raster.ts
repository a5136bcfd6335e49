import { FastRaster } from '../../src/console/raster/fast/fast-raster.ts';
import type { Raster } from '../../src/console/raster/raster.ts';
import { RasterPair } from '../raster/raster-pair.ts';
import { randomScreen, type Screen } from '../raster/screen.ts';

interface FrameTime {
  readonly name: string;
  /** Median of the runs, µs a frame. */
  readonly us: number;
}

const RUNS = 7;
/** Status reads in the first lines of each frame, as a loop that waits for sprite 0 makes them. */
const STATUS_READS = 40;
const FEWER_SPRITES = 20;

const BUSY: Screen = { ...randomScreen(5), mask: 0x1e, control: 0x10 };

/** Few tiles that differ from their neighbours, twenty sprites. */
const PLAIN: Screen = {
  ...BUSY,
  nameTables: BUSY.nameTables.map((_, i) => (i % 7 === 0 ? 5 : 0)),
  oam: BUSY.oam.map((byte, i) => (i % 4 === 0 && i >= 4 * FEWER_SPRITES ? 0xf8 : byte)),
};

/**
 * Times of one frame at 60 Hz, the reference and the fast unit side by side: sprite DMA with sprites that have moved, scroll
 * and mask writes between pictures, a few status reads. `frames` a run of the fast unit, a tenth for the reference.
 */
export function rasterFrameTimes(frames: number): FrameTime[] {
  const busy = new RasterPair({ timing: '60hz', screen: BUSY });
  const plain = new RasterPair({ timing: '60hz', screen: PLAIN });
  const few = new RasterPair({ timing: '60hz', screen: BUSY, draws: { firstLine: 100, lastLine: 123 } });
  const none = new RasterPair({ timing: '60hz', screen: BUSY, draws: { firstLine: 0, lastLine: -1 } });
  return [
    timeOf('reference, busy screen', busy.reference, BUSY, Math.ceil(frames / 10)),
    timeOf('reference, plain scene', plain.reference, PLAIN, Math.ceil(frames / 10)),
    timeOf('fast, busy screen', busy.fast, BUSY, frames),
    timeOf('fast, plain scene', plain.fast, PLAIN, frames),
    timeOf('fast, 24 lines of the busy screen', few.fast, BUSY, frames),
    timeOf('fast, flags only', none.fast, BUSY, frames),
  ];
}

type Side = RasterPair['reference'] | RasterPair['fast'];

function timeOf(name: string, side: Side, screen: Screen, frames: number): FrameTime {
  const times: number[] = [];
  for (let run = -2; run < RUNS; run++) {
    const start = performance.now();
    for (let frame = 0; frame < frames; frame++) playFrame(side, screen, frame);
    if (run >= 0) times.push(((performance.now() - start) * 1000) / frames);
    side.events.length = 0;
  }
  times.sort((a, b) => a - b);
  return { name, us: times[RUNS >> 1]! };
}

function playFrame({ raster, history }: Side, { oam, mask }: Screen, frame: number): void {
  const start = history.get(history.newest)!.lineZeroTick;
  for (let read = 0; read < STATUS_READS; read++) {
    raster.runTo(start + 900 * read);
    raster.readRegister(2, start + 900 * read);
  }
  const dmaTick = start + (241 * 341 + 20) * 4;
  const moved = oam.slice();
  for (let at = 3; at < 256; at += 4) moved[at] = (moved[at]! + frame) & 0xff;
  sendSprites(raster, moved, dmaTick);
  let tick = dmaTick + 256 * 24;
  for (const [register, value] of [
    [0, 0x90] as const,
    [5, frame & 0xff] as const,
    [5, 0] as const,
    [1, mask] as const,
  ]) {
    tick += 72;
    raster.runTo(tick);
    raster.writeRegister(register, value, tick);
  }
  raster.runTo(start + 262 * 341 * 4);
}

function sendSprites(raster: Raster, bytes: Uint8Array, tick: number): void {
  if (raster instanceof FastRaster) raster.writeOamPage(bytes, 0, tick, 24);
  else {
    for (let i = 0; i < 256; i++) {
      raster.runTo(tick + 24 * i);
      raster.writeOam(bytes[i]!);
    }
  }
}
