import { describe, expect, test } from 'vitest';
import { hashNoise } from '../../units/noise.ts';
import {
  type BenchState,
  benchFileText,
  benchQuery,
  FIRST_STATE,
  readBenchFile,
  readBenchQuery,
} from './bench-state.ts';
import { type EditHistory, edited, historyOf, redone, undone } from './edit-history.ts';
import {
  placesOf,
  presetSetting,
  settingAt,
  specOf,
  specsFor,
  standardSetting,
  withoutStage,
  withSetting,
  withStage,
  withStageMoved,
  withValue,
} from './light-edits.ts';

const STRATEGIES = ['same-frame-tested', 'calibrated'];

/** One random edit of any kind that the page offers. */
function anyEdit(state: BenchState, seed: number): BenchState {
  const lot = (count: number, what: number): number => Math.floor(hashNoise(seed, 7, what) * count);
  const path = state.lightPath;
  const places = placesOf(path);
  const place = places[lot(places.length, 1)]!;
  const spec = specOf(place.part, settingAt(path, place));
  const stages = path.stages.length;
  const edits: (() => BenchState)[] = [
    () => ({ ...state, strategy: STRATEGIES[lot(2, 2)]! }),
    () => ({
      ...state,
      lightPath: withStage(path, lot(stages + 1, 3), standardSetting(specsFor('stages')[lot(2, 4)]!)),
    }),
    () => (stages === 0 ? state : { ...state, lightPath: withoutStage(path, lot(stages, 5)) }),
    () => ({ ...state, lightPath: withStageMoved(path, lot(4, 6), lot(4, 7)) }),
    () => {
      const parameter = spec.parameters[lot(spec.parameters.length, 8)];
      if (parameter === undefined) return state;
      const value = Math.round(parameter.min + (parameter.max - parameter.min) * hashNoise(seed, 7, 9));
      const within = Math.max(parameter.min, Math.min(parameter.max, value));
      return { ...state, lightPath: withValue(path, place, parameter.name, within) };
    },
    () => {
      const other = specsFor(place.part)[lot(specsFor(place.part).length, 10)]!;
      const preset = other.presets[lot(other.presets.length + 1, 11)];
      const setting = preset === undefined ? standardSetting(other) : presetSetting(other, preset.id);
      return { ...state, lightPath: withSetting(path, place, setting) };
    },
  ];
  const next = edits[lot(edits.length, 12)]!();
  return next.lightPath.stages.length > 6 ? state : next;
}

describe('undo and redo', () => {
  test('1,000 random edits: undo(redo(x)) and redo(undo(x)) are x, and all the way back and forth is the same', () => {
    let history: EditHistory<BenchState> = historyOf(FIRST_STATE);
    const walk: BenchState[] = [FIRST_STATE];
    for (let seed = 0; seed < 1000; seed++) {
      const next = edited(history, anyEdit(history.present, seed));
      if (next === history) continue;
      expect(redone(undone(next))).toEqual(next);
      expect(undone(redone(undone(next)))).toEqual(undone(next));
      history = next;
      walk.push(next.present);
    }
    expect(walk.length).toBeGreaterThan(600);
    const steps = history.past.length;
    for (let step = 1; step <= steps; step++) {
      history = undone(history);
      expect(history.present).toBe(walk[walk.length - 1 - step]);
    }
    expect(undone(history)).toEqual(history);
    for (let step = 0; step < steps; step++) history = redone(history);
    expect(history.present).toBe(walk.at(-1));
    expect(redone(history)).toEqual(history);
  });

  test('an edit after an undo forgets what was taken back, and an edit to the same document is no step', () => {
    const history = edited(edited(historyOf('a'), 'b'), 'c');
    expect(edited(undone(history), 'd')).toEqual({ past: ['a', 'b'], present: 'd', future: [] });
    expect(edited(history, 'c')).toBe(history);
  });
});

describe('the bench in the address and as a file', () => {
  test('1,000 random states are read as they were written', () => {
    let state = FIRST_STATE;
    for (let seed = 5000; seed < 6000; seed++) {
      state = { ...anyEdit(state, seed), aim: { x: (seed % 270) - 10, y: (seed * 7) % 240 } };
      expect(readBenchQuery(benchQuery(state), FIRST_STATE, STRATEGIES)).toEqual({ state, faults: [] });
      expect(readBenchFile(benchFileText(state), FIRST_STATE, STRATEGIES)).toEqual({ state, faults: [] });
    }
  });

  test.each([
    [
      'v=2&strategy=calibrated&aim=1,2&light={}',
      'version: found 2, expected 1 (entry "bench" of a file, "v" of a link)',
    ],
    ['strategy=calibrated', 'version: found none, expected 1 (entry "bench" of a file, "v" of a link)'],
    ['v=1&strategy=other', 'strategy: found "other", expected same-frame-tested or calibrated'],
    ['v=1&strategy=calibrated', 'light: found none, expected the light path as this page writes it'],
    ['v=1&strategy=calibrated&light={', 'light: found no JSON, expected the light path as this page writes it'],
    [
      benchQuery({ ...FIRST_STATE, strategy: 'other' }),
      'strategy: found "other", expected same-frame-tested or calibrated',
    ],
    [benchQuery(FIRST_STATE).replace('aim=52,36', 'aim=52,999'), 'aim y: found 999, expected a number from -16 to 272'],
    [
      benchQuery(FIRST_STATE).replace(/light=.*/, 'light={"panel":{"kind":"lcd","riseMs":900}}'),
      'light.panel.riseMs: found 900, allowed 0.01 to 200 ms',
    ],
  ])('%s is refused, and what stood stays', (query, fault) => {
    const { state, faults } = readBenchQuery(query, FIRST_STATE, STRATEGIES);
    expect(faults).toContain(fault);
    expect(state).toBe(FIRST_STATE);
  });

  test.each([
    ['{"bench": 1', 'the file is not JSON'],
    ['[]', 'the file: found no object'],
    ['{"bench": 7}', 'version: found 7, expected 1'],
    ['{"scenario": 1}', 'it is a scenario'],
    ['{"sweep": 1}', 'it is the plan of a lag map'],
    ['{"bench": 1, "lightPath": {"panel": {"kind": "lcd", "riseMs": 900}}}', 'lightPath.panel.riseMs: found 900'],
  ])('the file %s is refused', (text, fault) => {
    expect(readBenchFile(text, FIRST_STATE, STRATEGIES).faults.join()).toContain(fault);
  });
});
