import { describe, expect, test } from 'vitest';
import { linearPrimaries } from '../../src/references/palette.ts';
import { PHOSPHORS } from '../../src/references/phosphor.ts';
import {
  TIMINGS,
  type Timing,
  type TimingId,
  ticksPerFrame,
  ticksPerLine,
  ticksToSeconds,
} from '../../src/units/timing.ts';
import {
  BLACK,
  delay,
  draws,
  lcd,
  makePath,
  type Painter,
  patchwork,
  play,
  room,
  spot,
  tube,
  WHITE,
  whole,
  wideBand,
} from './light-bench.ts';

// The expected ticks are computed here from the definitions with Math.exp, apart from the code under test.

interface Element {
  readonly row: number;
  readonly dot: number;
  readonly weight: number;
}

/** The Gaussian spot on a lattice of `rows` x 256 elements, off-screen ones left out after normalising. */
function spotElements(aim: { x: number; y: number }, radius: number, rows: number): Element[] {
  const sigma = radius / Math.sqrt(2 * Math.log(2));
  const all: Element[] = [];
  let total = 0;
  for (let row = -rows; row < 2 * rows; row++) {
    const dy = ((row + 0.5) * 240) / rows - aim.y;
    if (Math.abs(dy) > 2 * radius) continue;
    for (let dot = -256; dot < 512; dot++) {
      const dx = dot + 0.5 - aim.x;
      if (Math.abs(dx) > 2 * radius) continue;
      const weight = Math.exp(-(dx * dx + dy * dy) / (2 * sigma * sigma));
      total += weight;
      all.push({ row, dot, weight });
    }
  }
  const onScreen = all.filter(({ row, dot }) => row >= 0 && row < rows && dot >= 0 && dot < 256);
  return onScreen.map(({ row, dot, weight }) => ({ row, dot, weight: weight / total }));
}

const silicon = [0.252, 0.398, 0.35] as const;
const seen = (primaries: Float64Array, code: number): number =>
  silicon[0] * primaries[code * 3]! + silicon[1] * primaries[code * 3 + 1]! + silicon[2] * primaries[code * 3 + 2]!;

describe('LCD: first crossing of a step from black to white, closed form of a row by row sum', () => {
  // x - b for light that steps by s(1 - e^(-p t)), low-pass pole q, baseline pole r: transform s p q / ((z+p)(z+q)(z+r)).
  const response = (t: number, [p, q, r]: readonly [number, number, number]): number =>
    t <= 0
      ? 0
      : p *
        q *
        (Math.exp(-p * t) / ((q - p) * (r - p)) +
          Math.exp(-q * t) / ((p - q) * (r - q)) +
          Math.exp(-r * t) / ((p - r) * (q - r)));

  test.each(Array.from({ length: 60 }, (_, i) => i))('random setting %i', (i) => {
    const draw = draws(11, i);
    const timing = TIMINGS[(['60hz', '50hz', '50hz-clone'] as const)[Math.floor(draw(0, 3))]!];
    const rows = Math.floor(draw(240, 2161));
    const radius = draw(0.6, 4);
    const aim = { x: draw(1, 255), y: draw(1, 239) };
    const riseMs = draw(0.3, 30);
    const [white, black] = [draw(100, 500), draw(0, 1)];
    const lux = draw(0, 1000);
    const cornerHz = draw(500, 20_000);
    const isStored = draw(0, 1) < 0.5;
    const scanMs = isStored ? draw(2, 16.6) : draw(15.5, 16.6);
    const delayMs = draw(0, 120);
    const frames = 12;
    const path = makePath(
      {
        stages: isStored ? [{ kind: 'frame-buffer', frames: 1 }, delay(delayMs)] : [delay(delayMs)],
        panel: lcd({ rows, scanMs, riseMs, whiteCdM2: white, blackCdM2: black }),
        room: room(lux),
        optics: spot(radius),
        sensor: wideBand({ cornerHz, thresholdCdM2: 25 }),
      },
      play({ paint: whole((n) => n >= 1), frames, timing }),
      aim,
      timing,
    );
    const clock = timing.masterNumerator / timing.masterDenominator;
    const start =
      1 * ticksPerFrame(timing) +
      4 * timing.dotDivider +
      Math.round((delayMs / 1000) * clock) +
      (isStored ? ticksPerFrame(timing) : ticksPerLine(timing));
    const scanTicks = Math.round((scanMs / 1000) * clock);
    const elements = spotElements(aim, radius, rows);
    const heightOfRow = new Map<number, number>();
    for (const { row, weight } of elements) {
      heightOfRow.set(
        row,
        (heightOfRow.get(row) ?? 0) + weight * (white - black) * seen(linearPrimaries(false), WHITE),
      );
    }
    const poles = [Math.log(9) / (riseMs / 1000), 2 * Math.PI * cornerHz, 1] as const;
    const steps = [...heightOfRow].map(([row, height]) => ({
      at: start + Math.round((row * scanTicks) / rows),
      height,
    }));
    const above = (ticks: number): number =>
      steps.reduce((sum, { at, height }) => sum + height * response((ticks - at) / clock, poles), 0);
    const first = Math.min(...steps.map(({ at }) => at));
    let [low, high] = [first, first + 0.06 * clock];
    expect(above(high)).toBeGreaterThan(25);
    while (high - low > 1e-4) {
      const middle = (low + high) / 2;
      if (above(middle) > 25) high = middle;
      else low = middle;
    }
    path.bitAt(start + 9 * ticksPerFrame(timing));
    expect(path.flips[0]).toBe(Math.ceil(low));
    expect(path.flips).toHaveLength(1);
  });
});

interface Decay {
  readonly tauS: number;
  /** What is left after one tick. */
  readonly decay: number;
  amplitude: number;
}

/** Steps the sensor by single ticks: exact low-pass of the modes, baseline and threshold applied at every tick. */
class DenseSensor {
  readonly flips: number[] = [];
  x: number;
  b: number;
  #isLit = false;
  readonly #threshold: number;
  readonly #tau: number;
  readonly #pole: number;
  readonly #baseline: { readonly lit: number; readonly unlit: number };

  constructor(timing: Timing, cornerHz: number, threshold: number, steady: number) {
    const dt = ticksToSeconds(timing, 1);
    this.x = steady;
    this.b = steady;
    this.#threshold = threshold;
    this.#tau = 1 / (2 * Math.PI * cornerHz);
    this.#pole = Math.exp(-dt / this.#tau);
    this.#baseline = { lit: 1 - Math.exp(-dt / 10), unlit: 1 - Math.exp(-dt) };
  }

  /** From `tick` to `tick` + 1; the modes are moved on too. */
  step(tick: number, constant: number, modes: readonly Decay[]): void {
    const before = this.x;
    this.x = constant + (this.x - constant) * this.#pole;
    for (const mode of modes) {
      this.x += (mode.amplitude * mode.tauS * (mode.decay - this.#pole)) / (mode.tauS - this.#tau);
      mode.amplitude *= mode.decay;
    }
    const rise = this.#isLit ? this.#baseline.lit : this.#baseline.unlit;
    this.b = Math.min(this.b + ((before + this.x) / 2 - this.b) * rise, this.x);
    const above = this.x - this.b;
    if (!(this.#isLit ? above < 0.8 * this.#threshold : above > this.#threshold)) return;
    this.#isLit = !this.#isLit;
    this.flips.push(tick + 1);
  }
}

const OFFICE = (0.1 * 500) / Math.PI;

interface Screening {
  readonly id: TimingId;
  readonly paint: Painter;
  readonly aim: { x: number; y: number };
  readonly radius: number;
  readonly threshold: number;
  readonly white: number;
}

const blinking = whole((n) => n % 3 === 1);
const coloured: Painter = (codes, n) => codes.fill([0x16, BLACK, 0x2a, 0x12, BLACK][n % 5]!);

describe('tube against single-tick stepping', () => {
  const FRAMES = 6;

  test.each<Screening & { phosphor: number }>([
    { id: '60hz', paint: blinking, aim: { x: 128.2, y: 100.4 }, radius: 3, threshold: 25, white: 100, phosphor: 1 },
    { id: '60hz', paint: whole(() => true), aim: { x: 60, y: 20 }, radius: 6, threshold: 25, white: 100, phosphor: 1 },
    { id: '50hz', paint: coloured, aim: { x: 30.7, y: 236.9 }, radius: 4, threshold: 8, white: 120, phosphor: 1 },
    { id: '60hz', paint: patchwork(5), aim: { x: 100.1, y: 150.5 }, radius: 5, threshold: 60, white: 100, phosphor: 1 },
    { id: '60hz', paint: patchwork(6), aim: { x: 200.1, y: 50.5 }, radius: 2, threshold: 15, white: 80, phosphor: 2 },
    { id: '50hz-clone', paint: blinking, aim: { x: 128, y: 120 }, radius: 1, threshold: 400, white: 100, phosphor: 2 },
  ])(
    '$id, radius $radius, threshold $threshold, phosphor $phosphor',
    ({ id, paint, aim, radius, threshold, white, phosphor }) => {
      const timing = TIMINGS[id];
      const history = play({ paint, frames: FRAMES, timing });
      const path = makePath(
        {
          stages: [],
          panel: tube({ whiteCdM2: white, phosphor }),
          room: room(500),
          optics: spot(radius),
          sensor: wideBand({ thresholdCdM2: threshold }),
        },
        history,
        aim,
        timing,
      );
      const primaries = linearPrimaries(timing.swapsRedGreenEmphasis);
      const modes: Decay[] = [];
      const rise: { mode: Decay; primary: number; perS: number }[] = [];
      for (const [primary, terms] of PHOSPHORS[phosphor - 1]!.primaries.entries()) {
        for (const { amplitudePerS, tauS } of terms) {
          const mode = { tauS, decay: Math.exp(-ticksToSeconds(timing, 1) / tauS), amplitude: 0 };
          modes.push(mode);
          rise.push({ mode, primary, perS: amplitudePerS });
        }
      }
      const impulses = new Map<number, { code: number; weight: number }[]>();
      for (let n = 0; n < FRAMES; n++) {
        const { codes, lineZeroTick } = history.get(n)!;
        for (const { row, dot, weight } of spotElements(aim, radius, 240)) {
          const tick = lineZeroTick + 4 * timing.dotDivider + row * ticksPerLine(timing) + dot * timing.dotDivider;
          impulses.set(tick, [...(impulses.get(tick) ?? []), { code: codes[row * 256 + dot]!, weight }]);
        }
      }
      const area = white * ticksToSeconds(timing, ticksPerFrame(timing));
      const sensor = new DenseSensor(timing, 5000, threshold, OFFICE);
      const end = FRAMES * ticksPerFrame(timing);
      for (let tick = 0; tick < end; tick++) {
        for (const { code, weight } of impulses.get(tick) ?? []) {
          for (const { mode, primary, perS } of rise) {
            mode.amplitude += area * weight * silicon[primary]! * primaries[code * 3 + primary]! * perS;
          }
        }
        sensor.step(tick, OFFICE, modes);
      }
      path.bitAt(end);
      expect(sensor.flips.length).toBeGreaterThan(2);
      expect(path.flips).toEqual(sensor.flips);
      const { x, b } = path.sensorAt(end);
      expect(x).toBeCloseTo(sensor.x, 6);
      expect(b).toBeCloseTo(sensor.b, 5);
    },
  );
});

describe('LCD against single-tick stepping of every cell', () => {
  const FRAMES = 7;

  test.each<Screening & { rows: number; riseMs: number; fallMs: number }>([
    {
      id: '60hz',
      paint: blinking,
      aim: { x: 128.2, y: 100.4 },
      radius: 1,
      threshold: 25,
      white: 250,
      rows: 240,
      riseMs: 3,
      fallMs: 2,
    },
    {
      id: '60hz',
      paint: patchwork(7),
      aim: { x: 100.1, y: 151.9 },
      radius: 1,
      threshold: 60,
      white: 350,
      rows: 300,
      riseMs: 1,
      fallMs: 6,
    },
    {
      id: '50hz',
      paint: coloured,
      aim: { x: 7.1, y: 0.4 },
      radius: 1,
      threshold: 12,
      white: 300,
      rows: 480,
      riseMs: 5,
      fallMs: 5,
    },
    {
      id: '50hz',
      paint: patchwork(8),
      aim: { x: 77.7, y: 200 },
      radius: 0.8,
      threshold: 30,
      white: 500,
      rows: 720,
      riseMs: 0.0699,
      fallMs: 0.5,
    },
  ])(
    '$id, $rows rows, rise $riseMs ms, fall $fallMs ms',
    ({ id, paint, aim, radius, threshold, white, rows, riseMs, fallMs }) => {
      const timing = TIMINGS[id];
      const black = 0.3;
      const history = play({ paint, frames: FRAMES, timing });
      const path = makePath(
        {
          stages: [],
          panel: lcd({ rows, riseMs, fallMs, whiteCdM2: white, blackCdM2: black }),
          room: room(500),
          optics: spot(radius),
          sensor: wideBand({ thresholdCdM2: threshold }),
        },
        history,
        aim,
        timing,
      );
      const primaries = linearPrimaries(timing.swapsRedGreenEmphasis);
      const tauS = { rise: riseMs / 1000 / Math.log(9), fall: fallMs / 1000 / Math.log(9) };
      const dt = ticksToSeconds(timing, 1);
      const cells = spotElements(aim, radius, rows).map((element) => ({ ...element, value: black, target: black }));
      const scanTicks = Math.round((0.016 * timing.masterNumerator) / timing.masterDenominator);
      const refreshed = new Map<number, { n: number; row: number }>();
      for (let n = 0; n < FRAMES; n++) {
        for (const row of new Set(cells.map((cell) => cell.row))) {
          const start = history.get(n)!.lineZeroTick + 4 * timing.dotDivider + ticksPerLine(timing);
          refreshed.set(start + Math.round((row * scanTicks) / rows), { n, row });
        }
      }
      const steady = OFFICE + cells.reduce((sum, { weight }) => sum + weight * black, 0);
      const sensor = new DenseSensor(timing, 5000, threshold, steady);
      const end = FRAMES * ticksPerFrame(timing);
      const [rise, fall] = [Math.exp(-dt / tauS.rise), Math.exp(-dt / tauS.fall)];
      for (let tick = 0; tick < end; tick++) {
        const refresh = refreshed.get(tick);
        if (refresh !== undefined) {
          const line = Math.floor((refresh.row * 240) / rows);
          for (const cell of cells) {
            if (cell.row !== refresh.row) continue;
            cell.target =
              black + (white - black) * seen(primaries, history.get(refresh.n)!.codes[line * 256 + cell.dot]!);
          }
        }
        const up = { tauS: tauS.rise, decay: rise, amplitude: 0 };
        const down = { tauS: tauS.fall, decay: fall, amplitude: 0 };
        let constant = OFFICE;
        for (const cell of cells) {
          const way = cell.value - cell.target;
          constant += cell.weight * cell.target;
          if (way < 0) up.amplitude += cell.weight * way;
          else down.amplitude += cell.weight * way;
          cell.value = cell.target + way * (way < 0 ? rise : fall);
        }
        sensor.step(tick, constant, [up, down]);
      }
      path.bitAt(end);
      expect(sensor.flips.length).toBeGreaterThan(1);
      expect(path.flips).toEqual(sensor.flips);
      const { x, b } = path.sensorAt(end);
      expect(x).toBeCloseTo(sensor.x, 5);
      expect(b).toBeCloseTo(sensor.b, 4);
    },
  );
});
