import { describe, expect, test } from 'vitest';
import { weightedLight } from '../../src/references/palette.ts';
import { ticksPerFrame, ticksPerLine } from '../../src/units/timing.ts';
import { BLACK, lineRate, makePath, type Painter, play, room, spot, TIMING_60, tube } from './light-bench.ts';

// How long the original device stays lit. Measured: one device, one tube, 60 Hz, one read a line, the whole field in one
// colour; forum thread on calibrating the light test program, 2014. A pair of codes is a 1:1 dither of both.

interface Cell {
  readonly codes: readonly [number, number];
  readonly lines: number;
}

const GREY: readonly Cell[] = [
  { codes: [0x00, BLACK], lines: 0 },
  { codes: [0x00, 0x00], lines: 17 },
  { codes: [0x10, 0x00], lines: 23 },
  { codes: [0x10, 0x10], lines: 24 },
  { codes: [0x20, 0x10], lines: 25 },
  { codes: [0x20, 0x20], lines: 26 },
];

/** 0h, 1h/0h, 1h, 2h/1h, 2h, 3h/2h, 3h, $30/3h of a hue h. The first figure of hue 2 and the third of 6, 8 and A waver. */
const HUES: readonly (readonly [hue: number, lines: readonly number[]])[] = [
  [0x2, [10, 20, 22, 24, 25, 26, 26, 26]],
  [0x6, [0, 0, 13, 20, 23, 24, 25, 26]],
  [0x8, [0, 0, 15, 22, 24, 25, 25, 26]],
  [0xa, [0, 0, 18, 22, 24, 25, 26, 26]],
];

const hueCells = (hue: number, lines: readonly number[]): Cell[] =>
  [
    [0x00, 0x00],
    [0x10, 0x00],
    [0x10, 0x10],
    [0x20, 0x10],
    [0x20, 0x20],
    [0x30, 0x20],
    [0x30, 0x30],
    [0x30, 0x30],
  ].map(([a, b], i) => ({ codes: [i === 7 ? 0x30 : a! + hue, b! + hue], lines: lines[i]! }));

const DARKEST_BLUE: Cell = { codes: [0x02, BLACK], lines: 0 };
const CELLS = [...GREY, ...HUES.flatMap(([hue, lines]) => hueCells(hue, lines)), DARKEST_BLUE];

const LINE = ticksPerLine(TIMING_60);
const FRAME = ticksPerFrame(TIMING_60);
const FRAMES = 6;
const AIM = { x: 128, y: 120 };

/** Lit time a frame in lines: the mean number of reads that find it lit, one read a line at any phase. */
function litLines(paint: Painter, aim = AIM): number {
  const settings = { stages: [], panel: tube(), room: room(50), optics: spot(4), sensor: lineRate() };
  const history = play({ paint, frames: FRAMES });
  const path = makePath(settings, history, aim);
  const [from, to] = [3, FRAMES - 1].map((n) => history.get(n)!.lineZeroTick) as [number, number];
  path.bitAt(to);
  const edges = [from, ...path.flips.filter((tick) => tick > from && tick < to), to];
  const lit = edges.slice(1).reduce((sum, tick, i) => sum + (tick - edges[i]!) * path.bitAt(edges[i]!), 0);
  return (lit / LINE) * (FRAME / (to - from));
}

const dithered =
  ([a, b]: Cell['codes']): Painter =>
  (codes) => {
    for (let i = 0; i < codes.length; i++) codes[i] = (((i >> 8) + i) & 1) === 0 ? a : b;
  };

const disc =
  (radius: number, offset: number): Painter =>
  (codes) => {
    for (let i = 0; i < codes.length; i++) {
      const [x, y] = [(i & 255) + 0.5 - AIM.x, (i >> 8) + 0.5 - AIM.y - offset];
      codes[i] = x * x + y * y <= radius * radius ? 0x20 : BLACK;
    }
  };

describe('hold of the line-rate sensor; forum thread on calibrating the light test program, 2014, measured', () => {
  const found = CELLS.map(({ codes }) => litLines(dithered(codes)));

  test('greys: $20 26, $10 24, $00 17 lines, and the dithers between them, within 1.4 lines', () => {
    for (const [i, { lines }] of GREY.entries()) expect(Math.abs(found[i]! - lines), `cell ${i}`).toBeLessThan(1.4);
  });

  test('36 of the 39 cells within 1.6 lines; the others are darker than 0.11 of white', () => {
    const far = CELLS.filter(({ lines }, i) => Math.abs(found[i]! - lines) > 1.6);
    expect(far.length).toBeLessThanOrEqual(3);
    const light = weightedLight(false, [0.207, 0.551, 0.242]);
    for (const { codes } of far) expect((light[codes[0]]! + light[codes[1]]!) / 2).toBeLessThan(0.11);
  });

  test('root mean square of the errors of the 31 lit cells below 0.9 lines', () => {
    const lit = CELLS.map(({ lines }, i) => ({ lines, error: found[i]! - lines })).filter(({ lines }) => lines > 0);
    expect(lit.length).toBe(31);
    expect(Math.sqrt(lit.reduce((sum, { error }) => sum + error * error, 0) / lit.length)).toBeLessThan(0.9);
  });

  test('at equal luminance (0.10) blue $12 holds 22 lines and red $16 13', () => {
    expect(litLines(dithered([0x12, 0x12])) - litLines(dithered([0x16, 0x16]))).toBeGreaterThan(5);
  });

  test('a disc of radius 4 dots lights it for 0 to 21 lines, depending on centring (same thread)', () => {
    const lines = [0, 2, 4, 6, 8, 10].map((offset) => litLines(disc(4, offset)));
    expect(Math.abs(lines[0]! - 21)).toBeLessThan(1);
    expect(lines[5]).toBe(0);
    for (let i = 1; i < lines.length; i++) expect(lines[i]!).toBeLessThanOrEqual(lines[i - 1]!);
  });
});
