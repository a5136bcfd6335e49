import { hashNoise } from '../../src/units/noise.ts';

/** A panel behind a delay, as a scenario writes it. */
export interface TheoremPath {
  readonly name: string;
  readonly panel: Readonly<Record<string, unknown>>;
  /** The rows arrive slower than the panel scans: it needs the whole picture first. */
  readonly isBuffered: boolean;
  /** Entries of sensor and optics that are not as usual, and another room. */
  readonly sensor?: Readonly<Record<string, number>>;
  readonly optics?: Readonly<Record<string, number>>;
  readonly room?: Readonly<Record<string, unknown>>;
}

export const TUBE: TheoremPath = { name: 'tube', panel: { kind: 'beam-tube' }, isBuffered: false };

/** Panels drawn, and how many of them scan no faster than the 15.24 ms in which the 240 lines arrive. */
const LCD_COUNT = 8;
const UNBUFFERED_COUNT = 2;
const SEED = 2027;

/** Lots of one dimension, one from each of `count` equal strata, in an order drawn by lot. */
function strata(stream: number, count: number): number[] {
  const order = Array.from({ length: count }, (_, i) => i).sort(
    (a, b) => hashNoise(SEED, stream, a) - hashNoise(SEED, stream, b),
  );
  return order.map((stratum, i) => (stratum + hashNoise(SEED, stream + 1, i)) / count);
}

const tenths = (value: number): number => Math.round(value * 10) / 10;

/** Eight LCDs: 10 to 90 % rise and fall 1 to 20 ms, scan 8 to 16 ms, drawn in strata so that both ends are there. */
export const LCDS: readonly TheoremPath[] = (() => {
  const rises = strata(1, LCD_COUNT);
  const falls = strata(3, LCD_COUNT);
  const fast = strata(5, LCD_COUNT - UNBUFFERED_COUNT).map((lot) => tenths(8 + 7.2 * lot));
  const slow = strata(7, UNBUFFERED_COUNT).map((lot) => tenths(15.3 + 0.7 * lot));
  return [...slow, ...fast].map((scanMs, i) => {
    const riseMs = tenths(1 + 19 * rises[i]!);
    const fallMs = tenths(1 + 19 * falls[i]!);
    const isBuffered = i >= UNBUFFERED_COUNT;
    const name = `LCD ${riseMs} / ${fallMs} ms, scan ${scanMs} ms${isBuffered ? ', frame buffer' : ''}`;
    return { name, panel: { kind: 'lcd', riseMs, fallMs, scanMs }, isBuffered };
  });
})();

export const PATHS: readonly TheoremPath[] = [TUBE, ...LCDS];

/** 0 to 200 ms in steps of 0.5 ms, moved by 0.137 ms so that no step is a round number of anything. */
export const GRID_DELAYS: readonly number[] = Array.from({ length: 401 }, (_, i) => i / 2 + 0.137);
const RANDOM_DELAYS: readonly number[] = Array.from({ length: 200 }, (_, i) => 200 * hashNoise(SEED, 20, i));
/** Ascending: neighbours keep equally many pictures, so that one console serves them all. */
export const ALL_DELAYS: readonly number[] = [...GRID_DELAYS, ...RANDOM_DELAYS].sort((a, b) => a - b);
