import { describe, expect, test } from 'vitest';
import { historyCapacity, LightPath, type LightPathSettings } from '../../src/light/light-path.ts';
import { OPTICS } from '../../src/light/optics/index.ts';
import { PANELS } from '../../src/light/panel/index.ts';
import { type ModelSetting, presetValues, standardValues } from '../../src/light/parameters.ts';
import { ROOMS } from '../../src/light/room/index.ts';
import { SENSORS } from '../../src/light/sensor/index.ts';
import { SIGNAL_STAGES } from '../../src/light/signal/index.ts';
import { PictureHistory } from '../../src/picture/picture.ts';
import type { ModelSpec } from '../../src/references/sourced.ts';
import { LIGHT_PATH_SPECS } from '../../src/shot/light-path-settings.ts';
import { TIMINGS, ticksPerFrame, ticksPerLine } from '../../src/units/timing.ts';
import { BLACK, beginPicture, draws, hashOf, patchwork, play, STANDARD, spot, tube, WHITE } from './light-bench.ts';

const FRAMES = 10;
const PATCHWORK = patchwork(1);

const PARTS = [
  ['stages', SIGNAL_STAGES],
  ['panel', PANELS],
  ['room', ROOMS],
  ['optics', OPTICS],
  ['sensor', SENSORS],
] as const;

/**
 * The standard light path with one model in it, on a small spot unless the model is the optics; a panel at the plug; a
 * line-rate sensor before a tube, because it sees no LCD.
 */
function pathWith(part: keyof LightPathSettings, model: ModelSetting): LightPathSettings {
  const stages = part === 'panel' ? [] : STANDARD.stages;
  const panel = model.kind === 'line-rate' ? tube() : STANDARD.panel;
  return { ...STANDARD, stages, panel, optics: spot(2), [part]: part === 'stages' ? [model] : model };
}

/** Something in it runs from power-on, not with the pictures: a lamp on the mains, a switched backlight. */
const runsFree = ({ room, panel }: LightPathSettings): boolean =>
  room.kind === 'flickering-light' || (panel.kind === 'lcd' && panel['pwmHz'] !== 0);

interface Case {
  readonly name: string;
  readonly settings: LightPathSettings;
}

test.each(PARTS)('forms and schemas know of %s what there is, in the same order', (part, models) => {
  expect(LIGHT_PATH_SPECS[part]).toEqual(models.map(({ spec }) => spec));
});

/** Every preset of every model in the lists, and its standard values. */
const CASES: readonly Case[] = PARTS.flatMap(([part, models]) =>
  models.flatMap(({ spec }) => [
    { name: `${spec.kind}, standard`, settings: pathWith(part, { kind: spec.kind, ...standardValues(spec) }) },
    ...spec.presets.map(({ id }) => ({
      name: `${spec.kind}, ${id}`,
      settings: pathWith(part, { kind: spec.kind, ...presetValues(spec, id) }),
    })),
  ]),
);

describe.each(CASES)('$name', ({ settings }) => {
  const timing = TIMINGS['60hz'];
  const frame = ticksPerFrame(timing);
  const end = FRAMES * frame;
  const aim = { x: 131.3, y: 88.6 };
  const make = (history: PictureHistory) => new LightPath({ settings, timing, history, aim });
  const askedOnce = (history: PictureHistory) => {
    const path = make(history);
    path.bitAt(end);
    return path;
  };
  const reference = askedOnce(play({ paint: PATCHWORK, frames: FRAMES }));

  test('is deterministic, and the bit moves at all', () => {
    expect(reference.flips.length).toBeGreaterThan(0);
    const again = askedOnce(play({ paint: PATCHWORK, frames: FRAMES }));
    expect(again.flips).toEqual(reference.flips);
    expect(hashOf(again.save())).toBe(hashOf(reference.save()));
  });

  test('does not depend on when and how often it is asked, to the byte', () => {
    const path = make(play({ paint: PATCHWORK, frames: FRAMES }));
    const draw = draws(2, 1);
    for (let tick = 0; tick < end; tick += Math.floor(draw(1, 40_000))) {
      const bit = path.bitAt(tick);
      const before = hashOf(path.save());
      const ahead = Math.min(end, tick + Math.floor(draw(0, 200_000)));
      path.lightAt(ahead);
      path.sensorAt(ahead);
      expect(hashOf(path.save())).toBe(before);
      expect(path.bitAt(Math.max(0, tick - 1000))).toBe(reference.bitAt(Math.max(0, tick - 1000)));
      expect(bit).toBe(reference.bitAt(tick));
    }
    path.bitAt(end);
    expect(path.flips).toEqual(reference.flips);
    expect(hashOf(path.save())).toBe(hashOf(reference.save()));
  });

  test('a drawing shows what the committed path comes to', () => {
    const drawing = make(play({ paint: PATCHWORK, frames: FRAMES }));
    const asked = make(play({ paint: PATCHWORK, frames: FRAMES }));
    for (let tick = 0; tick < end; tick += 61_111) {
      asked.bitAt(tick);
      expect(drawing.lightAt(tick)).toBe(asked.lightAt(tick));
      expect(drawing.sensorAt(tick)).toEqual(asked.sensorAt(tick));
    }
  });

  test('is causal: what leaves the plug after a tick changes nothing up to it', () => {
    const draw = draws(3, 1);
    for (let i = 0; i < 12; i++) {
      // while the panel scans the spot, where a look ahead would show
      const line = Math.floor(draw(reference.sees.firstLine, reference.sees.lastLine + 1));
      const now = reference.rowTick(Math.floor(draw(1, 6)), line, 128) + Math.floor(draw(-200, 200));
      const other = play({ paint: PATCHWORK, frames: FRAMES });
      for (let n = 0; n < FRAMES; n++) {
        const { codes, lineZeroTick } = other.get(n)!;
        for (let at = 0; at < codes.length; at++) {
          const leaves = lineZeroTick + Math.floor(at / 256) * ticksPerLine(timing) + (at % 256) * timing.dotDivider;
          if (leaves >= now) codes[at] = i % 2 === 0 ? BLACK : WHITE;
        }
      }
      const [path, changed] = [make(play({ paint: PATCHWORK, frames: FRAMES })), make(other)];
      expect(changed.bitAt(now)).toBe(path.bitAt(now));
      expect(changed.lightAt(now)).toBe(path.lightAt(now));
      expect(hashOf(changed.save())).toBe(hashOf(path.save()));
    }
  });

  test('reads no line outside those that it sees', () => {
    const { firstLine, lastLine } = reference.sees;
    const other = play({ paint: PATCHWORK, frames: FRAMES });
    for (let n = 0; n < FRAMES; n++) {
      const { codes } = other.get(n)!;
      codes.fill(0x16, 0, firstLine * 256);
      codes.fill(0x16, (lastLine + 1) * 256);
    }
    const path = askedOnce(other);
    expect(hashOf(path.save())).toBe(hashOf(reference.save()));
    expect(lastLine - firstLine).toBeLessThanOrEqual(4 * path.spotRadiusDots + 1);
  });

  test('saves and loads in flight', () => {
    const draw = draws(4, 1);
    for (let i = 0; i < 4; i++) {
      const history = play({ paint: PATCHWORK, frames: FRAMES });
      const path = make(history);
      path.bitAt(Math.floor(draw(0, end)));
      const saved = path.save();
      path.bitAt(end);
      const loaded = make(history);
      loaded.load(saved);
      expect(hashOf(loaded.save())).toBe(hashOf(saved));
      loaded.bitAt(end);
      expect(hashOf(loaded.save())).toBe(hashOf(path.save()));
      expect(loaded.flips).toEqual(reference.flips);
    }
  });

  test('needs no more history than it says, asked once a frame', () => {
    const history = new PictureHistory(historyCapacity(settings, timing));
    const path = make(history);
    for (let n = 0; n < FRAMES; n++) {
      const tick = beginPicture(history, PATCHWORK, n, timing);
      if (n > 0) path.bitAt(tick);
    }
    path.bitAt(end);
    expect(path.flips).toEqual(reference.flips);
    expect(hashOf(path.save())).toBe(hashOf(reference.save()));
  });

  test('moves with its pictures, to the byte, where it says that it is a pure shift, and only there', () => {
    expect(reference.isPureShift).toBe(!runsFree(settings));
    const shifts = reference.isPureShift ? [1, 1363, 357_368, 21_477_272_727] : [1363, 357_368];
    for (const shift of shifts) {
      const later = make(play({ paint: PATCHWORK, frames: FRAMES, firstTick: shift }));
      later.bitAt(end + shift);
      const seen = [later.flips.map((tick) => tick - shift), later.lightAt(end + shift), later.sensorAt(end + shift)];
      const expected = [reference.flips, reference.lightAt(end), reference.sensorAt(end)];
      if (reference.isPureShift) expect(seen).toStrictEqual(expected);
      else expect(seen).not.toEqual(expected);
    }
  });

  test.each(['50hz', '50hz-clone'] as const)('is built for %s too', (id) => {
    const history = play({ paint: PATCHWORK, frames: 8, timing: TIMINGS[id] });
    const path = new LightPath({ settings, timing: TIMINGS[id], history, aim });
    expect([0, 1]).toContain(path.bitAt(8 * ticksPerFrame(TIMINGS[id])));
  });
});

const SPECS: readonly (readonly [keyof LightPathSettings, ModelSpec])[] = PARTS.flatMap(([part, models]) =>
  models.map(({ spec }) => [part, spec] as const),
);

describe.each(SPECS)('%s: $kind', (part, spec) => {
  const build = (values: Record<string, unknown>) =>
    new LightPath({
      settings: pathWith(part, { kind: spec.kind, ...standardValues(spec), ...values } as ModelSetting),
      timing: TIMINGS['60hz'],
      history: new PictureHistory(64),
      aim: { x: 128, y: 120 },
    });

  test('every parameter and every preset gives range, unit and source', () => {
    const names = spec.parameters.map(({ name }) => name).sort();
    for (const { min, max, standard, title, unit } of spec.parameters) {
      expect(title).not.toBe('');
      expect(standard.unit).toBe(unit);
      expect(standard.source).not.toBe('');
      expect(standard.value).toBeGreaterThanOrEqual(min);
      expect(standard.value).toBeLessThanOrEqual(max);
    }
    expect(new Set(spec.presets.map(({ id }) => id)).size).toBe(spec.presets.length);
    for (const { values } of spec.presets) {
      expect(Object.keys(values).sort()).toEqual(names);
      for (const { source, unit, kind } of Object.values(values)) {
        expect(source).not.toBe('');
        expect(unit).toBeTypeOf('string');
        expect(['published', 'measured', 'derived', 'assumed', 'common practice']).toContain(kind);
      }
    }
  });

  test.each(spec.parameters.map((parameter) => [parameter.name, parameter] as const))(
    'refuses bad %s',
    (name, parameter) => {
      const bad: unknown[] = [
        Number.NaN,
        Number.POSITIVE_INFINITY,
        parameter.min - 1,
        parameter.max * 2 + 1,
        '5',
        null,
        undefined,
      ];
      if (parameter.isInteger) bad.push(parameter.min + 0.5);
      for (const value of bad) {
        expect(() => build({ [name]: value }), String(value)).toThrow(
          expect.objectContaining({
            code: 'PARAM_RANGE',
            details: expect.objectContaining({
              name: `${spec.kind}.${name}`,
              allowed: expect.stringContaining(' to '),
            }),
          }),
        );
      }
    },
  );

  test('refuses a name that it does not know, and a kind that does not exist', () => {
    expect(() => build({ colour: 1 })).toThrow(expect.objectContaining({ code: 'PARAM_RANGE' }));
    expect(() => build({ kind: 'lamp' })).toThrow(expect.objectContaining({ code: 'PARAM_RANGE' }));
    expect(() => presetValues(spec, 'no such preset')).toThrow(expect.objectContaining({ code: 'PARAM_RANGE' }));
  });
});
