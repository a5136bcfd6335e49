import { describe, expect, test } from 'vitest';
import { PictureHistory } from '../picture/picture.ts';
import type { ModelSpec } from '../references/sourced.ts';
import { TIMINGS, ticksPerFrame } from '../units/timing.ts';
import { historyCapacity, LightPath, type LightPathSettings } from './light-path.ts';
import { BEAM_TUBE } from './panel/beam-tube.ts';
import { LCD } from './panel/lcd.ts';
import { standardValues } from './parameters.ts';
import { WIDE_BAND } from './sensor/wide-band.ts';

const timing = TIMINGS['60hz'];
const FRAME = ticksPerFrame(timing);
const standard = ({ kind, ...spec }: ModelSpec) => ({ kind, ...standardValues({ kind, ...spec }) });

const LCD_PATH: LightPathSettings = {
  stages: [{ kind: 'pure-delay', delayMs: 32 }],
  panel: standard(LCD.spec),
  room: { kind: 'constant-light', illuminanceLux: 50, diffuseReflectance01: 0.1 },
  optics: { kind: 'gaussian-spot', radiusDots: 2 },
  sensor: standard(WIDE_BAND.spec),
};
const TUBE_PATH: LightPathSettings = { ...LCD_PATH, stages: [], panel: standard(BEAM_TUBE.spec) };

function pathOn(settings: LightPathSettings, pictures = 6, capacity = 16, aim = { x: 128, y: 120 }) {
  const history = new PictureHistory(capacity);
  const path = new LightPath({ settings, timing, history, aim });
  for (let n = 0; n < pictures; n++) history.begin(n * FRAME, []).codes.fill(n === 2 ? 0x20 : 0x0f);
  return path;
}
const code = (name: string) => expect.objectContaining({ code: name });

describe('which picture is shown', () => {
  const lcd = { ...LCD_PATH, panel: { ...LCD_PATH.panel, rows: 1000, scanMs: 16 } };
  const DELAY = 687_273; // 32 ms
  const SCAN = 343_636; // 16 ms

  test('an LCD begins a line at its first panel row: line 100 of 1000 rows is row 417', () => {
    const path = pathOn(lcd);
    expect(path.rowTick(3, 100)).toBe(3 * FRAME + 16 + DELAY + 1364 + Math.round((417 * SCAN) / 1000));
    expect(path.rowTick(3, 0)).toBe(3 * FRAME + 16 + DELAY + 1364);
    expect(path.rowTick(3, 100, 200)).toBe(path.rowTick(3, 100));
  });

  test('behind a frame buffer it needs no line buffer', () => {
    const path = pathOn({ ...lcd, stages: [{ kind: 'frame-buffer', frames: 1 }], panel: { ...lcd.panel, scanMs: 8 } });
    expect(path.rowTick(1, 0)).toBe(2 * FRAME + 16);
  });

  test('a tube begins a line with its first dot, or with the dot that is asked for', () => {
    const path = pathOn(TUBE_PATH);
    expect(path.rowTick(2, 100)).toBe(2 * FRAME + 16 + 100 * 1364);
    expect(path.rowTick(2, 100, 128)).toBe(2 * FRAME + 16 + 100 * 1364 + 128 * 4);
  });

  test.each([
    ['LCD', LCD_PATH],
    ['tube', TUBE_PATH],
  ])('%s: the picture whose scan has passed the line last', (_, settings) => {
    for (const line of [0, 117, 239]) {
      // In the first of the LCD's 4.5 rows of this line.
      const path = pathOn(settings, 6, 16, { x: 128, y: (Math.ceil(line * 4.5) + 0.5) / 4.5 });
      expect(path.pictureShownAt(path.rowTick(0, line) - 1)).toBe(-1);
      for (let n = 0; n < 5; n++) {
        expect(path.pictureShownAt(path.rowTick(n, line))).toBe(n);
        expect(path.pictureShownAt(path.rowTick(n + 1, line) - 1)).toBe(n);
      }
    }
  });

  test('presentations outlive their pictures, and one that never was is undefined', () => {
    const history = new PictureHistory(8);
    const path = new LightPath({ settings: TUBE_PATH, timing, history, aim: { x: 1, y: 1 } });
    for (let n = 0; n < 100; n++) {
      history.begin(n * FRAME, []).codes.fill(0x0f);
      path.bitAt(n * FRAME);
    }
    expect(path.presentationOf(3)).toMatchObject({ tTop: 3 * FRAME + 16 });
    expect(path.presentationOf(100)).toBeUndefined();
    expect(() => path.rowTick(100, 1)).toThrow(code('INTERNAL'));
  });
});

describe('what it states', () => {
  test('latency bound: stages and one line', () => {
    expect(pathOn(LCD_PATH).latencyBoundTicks).toBe(687_273 + 1364);
    expect(pathOn(TUBE_PATH).latencyBoundTicks).toBe(1364);
    expect(pathOn(LCD_PATH).isPureShift).toBe(true);
  });

  test('lines that it sees: aim +- two radii, cut at the screen', () => {
    expect(pathOn(TUBE_PATH).sees).toEqual({ firstLine: 116, lastLine: 123 });
    expect(pathOn(TUBE_PATH, 1, 16, { x: 10, y: 1 }).sees).toEqual({ firstLine: 0, lastLine: 4 });
    expect(pathOn(LCD_PATH).sees).toEqual({ firstLine: 116, lastLine: 123 });
  });

  test('a spot off the screen sees no line and only the room', () => {
    for (const settings of [TUBE_PATH, LCD_PATH]) {
      const path = pathOn(settings, 6, 16, { x: -20, y: 120 });
      expect(path.sees.firstLine).toBeGreaterThan(path.sees.lastLine);
      expect(path.bitAt(6 * FRAME)).toBe(0);
      expect(path.lightAt(6 * FRAME)).toBeCloseTo(5 / Math.PI, 12);
    }
  });

  test('history needed: pictures of the largest latency and four', () => {
    expect(historyCapacity(TUBE_PATH, timing)).toBe(5);
    expect(historyCapacity(LCD_PATH, timing)).toBe(6);
    expect(historyCapacity({ ...LCD_PATH, stages: [{ kind: 'frame-buffer', frames: 8 }] }, timing)).toBe(13);
  });
});

describe('the bit', () => {
  test('is 1 while light is seen; any tick up to the latest may be asked for again', () => {
    const path = pathOn(TUBE_PATH);
    path.bitAt(6 * FRAME);
    const [on, off] = path.flips;
    expect(path.flips).toHaveLength(2);
    expect([on! - 1, on!, off! - 1, off!].map((tick) => path.bitAt(tick))).toEqual([0, 1, 1, 0]);
    expect(path.bitAt(0)).toBe(0);
  });

  test('a drawing of a time before the last cut is refused', () => {
    const path = pathOn(TUBE_PATH);
    path.bitAt(6 * FRAME);
    expect(() => path.lightAt(1000)).toThrow(code('PARAM_RANGE'));
  });

  test('a path that is made while the console runs starts with the pictures still kept', () => {
    const history = new PictureHistory(8);
    for (let n = 0; n < 50; n++) history.begin(n * FRAME, []).codes.fill(0x20);
    const path = new LightPath({ settings: TUBE_PATH, timing, history, aim: { x: 128, y: 120 } });
    history.begin(50 * FRAME, []).codes.fill(0x20);
    path.bitAt(51 * FRAME);
    expect(path.flips.length).toBeGreaterThan(1);
    expect(path.flips[0]).toBeGreaterThan(43 * FRAME);
  });
});

describe('refusals', () => {
  test('a history that is too short', () => {
    expect(() => pathOn(LCD_PATH, 0, 5)).toThrow(/picture history is 5 pictures long, expected 6 or more/);
    expect(() => pathOn(LCD_PATH, 0, 5)).toThrow(code('LIGHT_PATH'));
  });

  test('an aim that is no place', () => {
    for (const aim of [
      { x: Number.NaN, y: 0 },
      { x: 0, y: 1e9 },
      { x: -1000, y: 0 },
    ]) {
      expect(() => pathOn(LCD_PATH, 0, 16, aim)).toThrow(code('PARAM_RANGE'));
    }
  });

  test('pictures lost because nobody asked in time: INTERNAL, never black', () => {
    expect(() => pathOn(LCD_PATH, 40, 6).bitAt(40 * FRAME)).toThrow(code('INTERNAL'));
    const history = new PictureHistory(6);
    const path = new LightPath({ settings: LCD_PATH, timing, history, aim: { x: 128, y: 120 } });
    for (let n = 0; n < 8; n++) {
      history.begin(n * FRAME, []).codes.fill(0x0f);
      path.presentationOf(n); // takes the presentation, but shows nothing
    }
    expect(() => path.bitAt(8 * FRAME)).toThrow(/needs picture 0, but the history holds 6 pictures up to 7/);
  });

  test('an LCD whose rows would be shown before they arrive, until a frame buffer is added', () => {
    const panel = { ...LCD_PATH.panel, scanMs: 8 };
    expect(() => pathOn({ ...LCD_PATH, panel })).toThrow(code('LIGHT_PATH'));
    try {
      pathOn({ ...LCD_PATH, panel });
    } catch (error) {
      expect(error).toMatchObject({
        message: expect.stringMatching(/scan of the LCD is 8\.000 ms, expected 15\.242 ms or more/),
        hint: expect.stringContaining('frame buffer'),
      });
    }
    expect(() => pathOn({ ...LCD_PATH, panel, stages: [{ kind: 'frame-buffer', frames: 1 }] })).not.toThrow();
  });

  test('an LCD that scans longer than a frame, one whose black is no darker than its white, a blind sensor', () => {
    expect(() => pathOn({ ...LCD_PATH, panel: { ...LCD_PATH.panel, scanMs: 17 } })).toThrow(code('LIGHT_PATH'));
    expect(() => pathOn({ ...LCD_PATH, panel: { ...LCD_PATH.panel, whiteCdM2: 5, blackCdM2: 5 } })).toThrow(
      code('PARAM_RANGE'),
    );
    const sensor = { ...LCD_PATH.sensor, weightRed: 0, weightGreen: 0, weightBlue: 0 };
    expect(() => pathOn({ ...LCD_PATH, sensor })).toThrow(code('PARAM_RANGE'));
  });

  test('a saved state of another path', () => {
    const other = pathOn({ ...LCD_PATH, optics: { kind: 'gaussian-spot', radiusDots: 3 } }).save();
    expect(() => pathOn(LCD_PATH).load(other)).toThrow(code('STATE_FIELD'));
    const tube = pathOn(TUBE_PATH).save();
    expect(() => pathOn(LCD_PATH).load(tube)).toThrow(code('STATE_FIELD'));
    expect(() => pathOn(TUBE_PATH).load({ ...tube, sensor: { ...tube.sensor, x: Number.NaN } })).toThrow(
      code('STATE_FIELD'),
    );
  });
});
