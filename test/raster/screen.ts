import { hashNoise } from '../../src/units/noise.ts';
import type { TimingId } from '../../src/units/timing.ts';
import { RasterDriver } from './raster-driver.ts';

/** Everything that makes up a still picture. */
export interface Screen {
  readonly pattern: Uint8Array;
  readonly nameTables: Uint8Array;
  /** 32 cells, mirrored ones equal. */
  readonly palette: Uint8Array;
  readonly oam: Uint8Array;
  readonly control: number;
  readonly mask: number;
  readonly scrollX: number;
  readonly scrollY: number;
  readonly mirroring: 'horizontal' | 'vertical';
}

/** A busy screen: every tile, attribute and sprite drawn by lot, about half of all dots transparent. */
export function randomScreen(seed: number): Screen {
  const bytes = (stream: number, count: number, range = 256) =>
    Uint8Array.from({ length: count }, (_, i) => Math.floor(hashNoise(seed, stream, i) * range));
  const pick = (stream: number, range: number) => Math.floor(hashNoise(seed, stream, 0) * range);
  const holes = bytes(2, 8192);
  const palette = bytes(4, 32, 64);
  for (let cell = 0; cell < 16; cell += 4) palette[16 + cell] = palette[cell]!;
  return {
    pattern: bytes(1, 8192).map((byte, i) => byte & holes[i]!),
    nameTables: bytes(3, 2048),
    palette,
    oam: bytes(5, 256).map((byte, i) => (i % 4 === 2 ? byte & 0xe3 : byte)),
    control: pick(6, 64),
    mask: 0x18 | (pick(7, 4) << 1) | (pick(8, 4) === 0 ? pick(9, 8) << 5 : 0) | (pick(10, 5) === 0 ? 1 : 0),
    scrollX: pick(11, 256),
    scrollY: pick(12, 256),
    mirroring: pick(13, 2) === 0 ? 'horizontal' : 'vertical',
  };
}

/** Put a screen up through the registers alone. The driver stands at (0,0) of the first frame that shows it. */
export function showScreen(screen: Screen, timing: TimingId = '60hz', startTick = 0): RasterDriver {
  const driver = new RasterDriver({ timing, mirroring: screen.mirroring, startTick }).warmUp();
  driver.fill(0x0000, screen.pattern);
  driver.fill(0x2000, screen.nameTables.subarray(0, 1024));
  driver.fill(screen.mirroring === 'vertical' ? 0x2400 : 0x2800, screen.nameTables.subarray(1024));
  driver.fill(0x3f00, screen.palette).fillOam(screen.oam);
  driver.goTo(driver.timing.vblankLine, 10);
  return driver.write(0, screen.control).write(5, screen.scrollX, screen.scrollY).write(1, screen.mask).goToNextFrame();
}
