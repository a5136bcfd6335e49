import { describe, expect, test } from 'vitest';
import {
  type AimMove,
  historyCapacity,
  LightPath,
  type LightPathOptions,
  type LightPathSettings,
} from '../../src/light/light-path.ts';
import { PictureHistory } from '../../src/picture/picture.ts';
import { TIMINGS, type Timing, type TimingId, ticksPerFrame } from '../../src/units/timing.ts';
import {
  BLACK,
  beginPicture,
  type Draw,
  delay,
  draws,
  hashOf,
  lamp,
  lcd,
  lineRate,
  type Painter,
  patchwork,
  play,
  room,
  spot,
  TIMING_60,
  tube,
  WHITE,
  wideBand,
} from './light-bench.ts';
import { PlainPath } from './plain/plain-path.ts';

const FRAMES = 6;
const PATHS = 40;
/** Ticks that a path is asked ahead. */
const AHEAD = 200_000;

const oneOf = <Item>(draw: Draw, items: readonly Item[]): Item => items[Math.floor(draw(0, items.length))]!;

/** A lamp of 16 x 16 dots near the middle, dim or bright from picture to picture, on a dark ground. */
const lampPicture =
  (x: number, y: number): Painter =>
  (codes, n) => {
    codes.fill(BLACK);
    const code = [0x08, 0x08, WHITE, 0x00, 0x16, 0x08][n % 6]!;
    for (let line = y; line < y + 16; line++) codes.fill(code, line * 256 + x, line * 256 + x + 16);
  };

/** Every dot another code, or black. */
const speckled =
  (seed: number): Painter =>
  (codes, n) => {
    const draw = draws(seed, n % 2);
    for (let at = 0; at < codes.length; at++) codes[at] = draw(0, 1) < 0.5 ? BLACK : Math.floor(draw(0, 512));
  };

function randomSettings(draw: Draw, panel: 'tube' | 'LCD', sensor: 'wide-band' | 'line-rate'): LightPathSettings {
  const switched = { pwmHz: oneOf(draw, [0, 0, 240, 16_000]), pwmDuty01: draw(0.1, 0.9), pwmPhase01: draw(0, 1) };
  const thresholdCdM2 = oneOf(draw, [draw(0.02, 2), draw(2, 60), draw(60, 2000)]);
  return {
    stages: oneOf(draw, [[], [delay(draw(0, 20))], [{ kind: 'frame-buffer', frames: 1 }]]),
    panel:
      panel === 'tube'
        ? tube({ whiteCdM2: draw(20, 300), phosphor: oneOf(draw, [1, 1, 2]) })
        : lcd({ rows: Math.floor(draw(240, 1200)), riseMs: draw(0.05, 9), fallMs: draw(0.05, 9), ...switched }),
    room: oneOf(draw, [room(draw(0, 600)), lamp({ illuminanceLux: draw(0, 600), percentFlicker: draw(1, 100) })]),
    optics: spot(oneOf(draw, [draw(0.5, 3), draw(3, 9)])),
    sensor:
      sensor === 'wide-band'
        ? wideBand({ thresholdCdM2, cornerHz: oneOf(draw, [draw(50, 2000), 5000, draw(5000, 900_000)]) })
        : lineRate({
            thresholdCdM2,
            q: draw(0.6, 9),
            attackUs: oneOf(draw, [draw(1, 20), draw(20, 200)]),
            holdMs: oneOf(draw, [0, draw(0, 3)]),
          }),
  };
}

function randomPath(i: number, panel: 'tube' | 'LCD', sensor: 'wide-band' | 'line-rate') {
  const draw = draws(21, i);
  const timing: Timing = TIMINGS[oneOf<TimingId>(draw, ['60hz', '50hz', '50hz-clone'])];
  const aim = { x: 128 + draw(-12, 12), y: oneOf(draw, [112 + draw(-12, 12), draw(-3, 243)]) };
  const paint = oneOf(draw, [patchwork(i), lampPicture(118, 102), speckled(i), lampPicture(126, 106)]);
  const history = play({ paint, frames: FRAMES, timing, capacity: FRAMES + 4 });
  const end = FRAMES * ticksPerFrame(timing);
  const moves: AimMove[] = [];
  if (i % 4 === 0) {
    for (let tick = draw(0, end / 2); tick < end; tick += draw(0, end / 2)) {
      moves.push({ tick: Math.floor(tick), aim: { x: 128 + draw(-9, 9), y: 112 + draw(-9, 9) } });
    }
  }
  const options: LightPathOptions = { settings: randomSettings(draw, panel, sensor), timing, history, aim, moves };
  return { draw, options, end };
}

describe.each([
  ['tube', 'wide-band'],
  ['tube', 'line-rate'],
  ['LCD', 'wide-band'],
  ['LCD', 'line-rate'],
] as const)('%s before a %s sensor', (panel, sensor) => {
  test(`${PATHS} random paths, asked at random, ahead, saved and loaded, end as the plain path does, to the byte`, () => {
    let flips = 0;
    for (let i = 0; i < PATHS; i++) {
      const { draw, options, end } = randomPath(i, panel, sensor);
      const plain = new PlainPath(options);
      plain.runTo(end);
      let path = new LightPath(options);
      const step = oneOf(draw, [2000, 40_000, 400_000]);
      for (let tick = 0; tick < end; tick += Math.floor(draw(1, step))) {
        const way = draw(0, 8);
        if (way < 4) path.bitAt(tick);
        else if (way < 6) path.bitConstantUntil(tick, Math.min(end, tick + Math.floor(draw(1, 300_000))));
        else if (way < 7) path.lightAt(Math.max(tick, path.save().tick));
        else {
          const loaded = new LightPath(options);
          loaded.load(path.save());
          path = loaded;
        }
      }
      path.bitAt(end);
      expect(path.flips, `path ${i}`).toEqual(plain.flips);
      expect(hashOf(path.save()), `path ${i}`).toBe(hashOf(plain.save()));
      flips += path.flips.length;
    }
    expect(flips).toBeGreaterThan(PATHS / 4);
  });
});

describe.each(['wide-band', 'line-rate'] as const)('sums of impulses before a %s sensor', (sensor) => {
  test(`${PATHS} random tubes flip at the very ticks of a path that cuts at every impulse`, () => {
    let flips = 0;
    for (let i = 0; i < PATHS; i++) {
      const { options, end } = randomPath(1000 + i, 'tube', sensor);
      const [summed, dotByDot] = [new LightPath(options), new PlainPath(options, true)];
      summed.bitAt(end);
      dotByDot.runTo(end);
      expect(summed.flips, `path ${i}`).toEqual(dotByDot.flips);
      const [a, b] = [summed.save(), dotByDot.save()];
      if (a.tick === b.tick) {
        const amplitudes = b.amplitudes['cdM2'] as Float64Array;
        for (const [m, amplitude] of (a.amplitudes['cdM2'] as Float64Array).entries()) {
          expect(Math.abs(amplitude - amplitudes[m]!)).toBeLessThan(1e-9 * (1 + Math.abs(amplitude)));
        }
      }
      flips += summed.flips.length;
    }
    expect(flips).toBeGreaterThan(PATHS / 4);
  });
});

describe('rows of impulses before a wide-band sensor', () => {
  /** A tube in steady light that shows lamps, speckles or patches to a sensor of which they may fall short. */
  const pathWithRows = (i: number) => {
    const { draw, options, end } = randomPath(3000 + i, 'tube', 'wide-band');
    const settings = {
      ...options.settings,
      panel: tube({ whiteCdM2: draw(20, 300), phosphor: oneOf(draw, [1, 1, 1, 2]) }),
      room: room(draw(0, 300)),
      optics: spot(draw(2, 9)),
      sensor: wideBand({
        thresholdCdM2: draw(10, 300),
        cornerHz: oneOf(draw, [draw(300, 3000), 5000, draw(5000, 40_000)]),
      }),
    };
    return { draw, options: { ...options, settings }, end };
  };

  test(`${PATHS} random tubes, asked at random, end as the plain path does, to the byte, and flip as one that cuts at every impulse`, () => {
    let [flips, changes] = [0, 0];
    for (let i = 0; i < PATHS; i++) {
      const { draw, options, end } = pathWithRows(i);
      const [plain, dotByDot] = [new PlainPath(options), new PlainPath(options, true)];
      for (const judge of [plain, dotByDot]) judge.runTo(end);
      const path = new LightPath(options);
      const step = oneOf(draw, [300, 2000, 40_000, 400_000]);
      for (let tick = 0; tick < end; tick += Math.floor(draw(1, step))) {
        const until = path.bitConstantUntil(tick, Math.min(end, tick + Math.floor(draw(1, 300_000))));
        if (until > tick + 1) expect(path.bitAt(until - 1)).toBe(path.bitAt(tick));
      }
      path.bitAt(end);
      expect(path.flips, `path ${i}`).toEqual(plain.flips);
      expect(path.flips, `path ${i}`).toEqual(dotByDot.flips);
      expect(hashOf(path.save()), `path ${i}`).toBe(hashOf(plain.save()));
      flips += path.flips.length;
      changes += plain.changesOfRows;
    }
    expect(flips).toBeGreaterThan(PATHS / 4);
    expect(changes).toBeGreaterThan(2 * PATHS);
  });
});

describe('passes of impulses before a wide-band sensor', () => {
  const PICTURES = 18;

  /** A tube whose picture stays for some frames, before a sensor whose threshold is near what the light comes to, or above. */
  const pathWithPasses = (i: number) => {
    const draw = draws(77, i);
    const timing: Timing = TIMINGS[oneOf<TimingId>(draw, ['60hz', '60hz', '50hz', '50hz-clone'])];
    const scenes = [patchwork(i), lampPicture(118, 102), speckled(i), lampPicture(126, 106)];
    const lasting = Math.floor(draw(2, 9));
    const shift = Math.floor(draw(0, 40));
    const paint: Painter = (codes, n) => {
      const scene = Math.floor((n + shift) / lasting);
      scenes[scene % scenes.length]!(codes, scene);
    };
    const history = play({ paint, frames: PICTURES, timing, capacity: PICTURES + 6 });
    const end = PICTURES * ticksPerFrame(timing);
    const aim = { x: 128 + draw(-12, 12), y: oneOf(draw, [112 + draw(-12, 12), draw(-3, 243)]) };
    const moves: AimMove[] = [];
    if (i % 5 === 0) {
      for (let tick = draw(0, end / 2); tick < end; tick += draw(0, end / 3))
        moves.push({ tick: Math.floor(tick), aim: { x: aim.x + draw(-4, 4), y: aim.y + draw(-4, 4) } });
    }
    const settings: LightPathSettings = {
      stages: oneOf(draw, [[], [delay(draw(0, 20))], [{ kind: 'frame-buffer', frames: 1 }]]),
      panel: tube({ whiteCdM2: draw(20, 300), phosphor: oneOf(draw, [1, 1, 1, 2]) }),
      room: room(oneOf(draw, [0, draw(0, 300)])),
      optics: spot(draw(1, 9)),
      sensor: wideBand({
        thresholdCdM2: oneOf(draw, [draw(1, 60), draw(60, 600), draw(600, 3000)]),
        cornerHz: oneOf(draw, [draw(20, 500), draw(500, 3000), 5000, draw(5000, 40_000)]),
      }),
    };
    return { draw, end, options: { settings, timing, history, aim, moves } };
  };

  test(`${PATHS} random tubes with pictures that stay end as the plain path does, to the byte, and flip as one that cuts at every impulse`, () => {
    let [flips, passes] = [0, 0];
    for (let i = 0; i < PATHS; i++) {
      const { draw, options, end } = pathWithPasses(i);
      const [plain, dotByDot] = [new PlainPath(options), new PlainPath(options, true)];
      for (const judge of [plain, dotByDot]) judge.runTo(end);
      let path = new LightPath(options);
      const step = oneOf(draw, [2000, 40_000, 400_000]);
      for (let tick = 0; tick < end; tick += Math.floor(draw(1, step))) {
        const until = path.bitConstantUntil(tick, Math.min(end, tick + Math.floor(draw(1, 300_000))));
        if (until > tick + 1) expect(path.bitAt(until - 1)).toBe(path.bitAt(tick));
        if (draw(0, 8) < 1) {
          const loaded = new LightPath(options);
          loaded.load(path.save());
          path = loaded;
        }
      }
      path.bitAt(end);
      expect(path.flips, `path ${i}`).toEqual(dotByDot.flips);
      expect(hashOf(path.save()), `path ${i}`).toBe(hashOf(plain.save()));
      flips += path.flips.length;
      passes += plain.changesOfPasses;
    }
    expect(flips).toBeGreaterThan(PATHS);
    expect(passes).toBeGreaterThan(2 * PATHS);
  });

  test('a drawing in the middle of a pass shows the light and the sensor as they are dot by dot', () => {
    let [passes, looks] = [0, 0];
    for (let i = 0; i < 8; i++) {
      const { draw, options, end } = pathWithPasses(100 + i);
      const path = new LightPath({ ...options, moves: [] });
      for (let tick = 0; tick < end; tick += Math.floor(draw(30_000, 300_000))) {
        path.bitAt(tick);
        const last = path.save().tick;
        const judge = new PlainPath({ ...options, moves: [] }, true);
        for (let at = last; at <= tick; at += Math.floor(draw(1, 60_000))) {
          const found = judge.readingAt(at);
          const drawn = { light: path.lightAt(at), ...path.sensorAt(at) };
          for (const what of ['light', 'x', 'b'] as const) {
            const least = 1e-9 * (1 + Math.abs(found[what]));
            expect(Math.abs(drawn[what] - found[what]), `${what} of path ${i} at ${at}`).toBeLessThan(least);
          }
          looks++;
        }
        if (tick - last > ticksPerFrame(options.timing) / 2) passes++;
      }
    }
    expect(passes).toBeGreaterThan(8);
    expect(looks).toBeGreaterThan(100);
  });
});

test('rows of a later picture are one cut, however long nobody asked', () => {
  for (const [thresholdCdM2, cornerHz] of [
    [130, 26],
    [1000, 26],
    [500, 100],
  ] as const) {
    const history = play({ paint: (codes) => codes.fill(WHITE), frames: 6, timing: TIMING_60, capacity: 16 });
    const settings = {
      stages: [],
      panel: tube({ whiteCdM2: 100, phosphor: 2 }),
      room: room(0),
      optics: spot(4),
      sensor: wideBand({ thresholdCdM2, cornerHz }),
    };
    const options = { settings, timing: TIMING_60, history, aim: { x: 128, y: 60 } };
    const frame = ticksPerFrame(TIMING_60);
    const [once, oftener] = [new LightPath(options), new LightPath(options)];
    for (let n = 1; n < 5; n++) oftener.bitAt(n * frame);
    for (const path of [once, oftener]) path.bitAt(5 * frame);
    expect(hashOf(once.save()), `${cornerHz} Hz`).toBe(hashOf(oftener.save()));
  }
});

describe('a drawing', () => {
  const frame = ticksPerFrame(TIMING_60);

  test.each(['tube', 'LCD'])('is still made after black pictures that nobody drew: %s', (kind) => {
    const panel = kind === 'tube' ? tube() : lcd();
    const settings = { stages: [], panel, room: room(50), optics: spot(3), sensor: wideBand() };
    const history = new PictureHistory(historyCapacity(settings, TIMING_60));
    const path = new LightPath({ settings, timing: TIMING_60, history, aim: { x: 128, y: 120 } });
    const drawn: number[] = [];
    for (let n = 0; n < 12; n++) {
      beginPicture(history, (codes) => codes.fill(BLACK), n, TIMING_60);
      path.bitAt(n * frame + Math.floor(0.7 * frame));
      if (n === 1 || n === 11) drawn.push(path.lightAt(n * frame + 1000));
    }
    expect(drawn[1]).toBe(drawn[0]);
  });

  test('knows of a move that came before the first cut', () => {
    const settings = {
      stages: [],
      panel: tube(),
      room: room(0),
      optics: spot(3),
      sensor: wideBand({ thresholdCdM2: 50_000 }),
    };
    const paint: Painter = (codes) => codes.fill(BLACK).fill(WHITE, 180 * 256);
    const history = play({ paint, frames: 6, timing: TIMING_60, capacity: 30 });
    const options = { settings, timing: TIMING_60, history, aim: { x: 128, y: 60 } };
    const moves = [{ tick: 2 * frame, aim: { x: 128, y: 200 } }];
    const late = new LightPath(options);
    late.bitAt(1000);
    late.moveAims(moves);
    const tick = Math.floor(2.8 * frame);
    const light = late.lightAt(tick);
    expect(light).toBeGreaterThan(100);
    expect(light).toBe(new LightPath({ ...options, moves }).lightAt(tick));
  });
});

test('a path that was asked ahead, saved and loaded into a new one goes on as one that never was', () => {
  let ahead = 0;
  for (let i = 0; i < 40; i++) {
    const { draw, options, end } = randomPath(
      2000 + i,
      i % 2 === 0 ? 'tube' : 'LCD',
      i % 3 === 0 ? 'line-rate' : 'wide-band',
    );
    const later = options.history;
    const history = new PictureHistory(later.capacity);
    const begin = (n: number) => {
      const { codes, lineZeroTick } = later.get(n)!;
      history.begin(lineZeroTick, []).codes.set(codes);
      return lineZeroTick;
    };
    const make = () => new LightPath({ ...options, history });
    let asked = make();
    const never = make();
    for (let n = 0; n < FRAMES; n++) {
      const from = begin(n);
      const to = n + 1 < FRAMES ? later.get(n + 1)!.lineZeroTick : end;
      for (let tick = from; tick < to; tick += Math.floor(draw(1, 60_000))) {
        const until = asked.bitConstantUntil(tick, tick + AHEAD);
        expect(asked.bitConstantUntil(tick, tick + AHEAD)).toBeGreaterThanOrEqual(until);
        ahead += asked.save().askedTick - tick;
        const loaded = make();
        loaded.load(asked.save());
        asked = loaded;
        expect(asked.bitAt(tick)).toBe(never.bitAt(tick));
      }
    }
    asked.bitAt(end + AHEAD);
    never.bitAt(end + AHEAD);
    expect(asked.flips).toEqual(never.flips);
    expect(hashOf(asked.save())).toBe(hashOf(never.save()));
  }
  expect(ahead).toBeGreaterThan(1e6);
});
