import { describe, expect, test } from 'vitest';
import { type Explanation, explain, explainShot } from '../../src/shot/cause/explain.ts';
import { INTERVENTIONS } from '../../src/shot/cause/index.ts';
import type { CauseId } from '../../src/shot/cause/intervention.ts';
import { observeShot } from '../../src/shot/cause/observation.ts';
import { firstLight } from '../first-light.ts';
import { PLANTS } from './plants/index.ts';
import { cured, curedProgram, prepareOf } from './plants/plant.ts';
import { type Planted, planted, plantedPairs, verdictOf } from './plants/planted.ts';

/** Plants of a kind here; `npm run bench:causes` takes 200. */
const EACH = 6;
const SEED = 11;

function take<Item>(items: Iterable<Item>, count: number): Item[] {
  const taken: Item[] = [];
  for (const item of items) {
    taken.push(item);
    if (taken.length === count) break;
  }
  return taken;
}

const nameOf = (explanation: Explanation): string =>
  explanation.kind === 'proved' ? explanation.causes[0]!.id : explanation.kind;

/** Which intervention's evidence a kind hangs on. */
const NAME_OF: Readonly<Record<CauseId, string>> = {
  jam: 'no jam',
  'no-nmi': 'NMI kept on',
  'nmi-late': 'NMI in time',
  'wrong-port': 'right port',
  'wrong-polarity': 'right polarity',
  'trigger-late': 'trigger at once',
  'ninth-sprite': 'all sprites',
  'light-gone': 'gap-free reads',
  'poll-gap': 'gap-free reads',
  'off-target': 'aim at the centre',
  'box-elsewhere': 'box where shown',
  'hand-moved': 'still hand',
  'threshold-moved': 'sensor as calibrated',
  miscalibrated: 'true delay',
  'still-lit': 'dark before',
  'room-light': 'dark room',
  'too-dim': 'threshold halved',
  'too-early': 'no delay',
  'slow-panel': 'ideal panel',
  'blind-sensor': 'ideal sensor',
};

describe.each(PLANTS.map((plant) => [plant.id, plant] as const))('%s', (id, plant) => {
  const shots: readonly Planted[] = take(planted(plant, SEED), EACH);

  test('is named, each number is in the sentence or the cure, and the cure makes the shot right', () => {
    expect(shots.length).toBe(EACH);
    for (const { prepared, setting } of shots) {
      const explanation = explainShot(prepared, 0);
      expect([nameOf(explanation), JSON.stringify(setting)]).toEqual([id, JSON.stringify(setting)]);
      if (explanation.kind !== 'proved') continue;
      const [{ sentence, cure, fields, interventions }] = explanation.causes as [(typeof explanation.causes)[0]];
      expect(interventions).toEqual([NAME_OF[id]]);
      expect(sentence).toMatch(/\d/);
      expect(cure.changes.length).toBeGreaterThan(0);
      for (const { value, unit } of Object.values(fields))
        expect([Number.isFinite(value), typeof unit]).toEqual([true, 'string']);
      expect(verdictOf(cured(plant, setting, { cure })).is).toBe('right');
    }
  });

  test('without its evidence it is not named', () => {
    const blind = INTERVENTIONS.map((one) => (one.name === NAME_OF[id] ? { ...one, evidence: () => 0 } : one));
    for (const { prepared } of shots) expect(nameOf(explainShot(prepared, 0, { interventions: blind }))).not.toBe(id);
  });

  test('the right shot under it needs no cause, and explaining twice gives the same bytes', () => {
    const { base, prepared } = shots[0]!;
    expect(explainShot(prepareOf(plant)(base), 0)).toEqual({ kind: 'right' });
    const first = observeShot(prepared, 0);
    expect(JSON.stringify(explain(first))).toBe(JSON.stringify(explainShot(prepared, 0)));
  });
});

test('light that comes too late is also cured by a longer look', () => {
  const plant = PLANTS.find(({ id }) => id === 'too-early')!;
  for (const { prepared, setting } of take(planted(plant, SEED), EACH)) {
    const explanation = explainShot(prepared, 0);
    if (explanation.kind !== 'proved') throw new Error(explanation.kind);
    const program = curedProgram(setting, explanation.causes[0]!.cure.changes);
    expect(program.constants.LOOK_FRAMES).toBeGreaterThan(setting.constants.LOOK_FRAMES);
    expect(verdictOf(prepareOf(plant)(program)).is).toBe('right');
  }
});

test('of two faults at once one is named, or both', () => {
  const pairs = take(plantedPairs(PLANTS, SEED), 30);
  const found = pairs.filter(({ plants, prepared }) => {
    const explanation = explainShot(prepared, 0);
    return (
      explanation.kind === 'proved' && explanation.causes.some(({ id }) => plants.some((plant) => plant.id === id))
    );
  });
  expect(found.length).toBeGreaterThanOrEqual(27);
});

test('an aim on a border is explained by the aim alone', () => {
  const explanation = explainShot(firstLight({ shots: [{ aim: { x: 137, y: 112 }, atMs: 500 }] }), 0);
  expect(nameOf(explanation)).toBe('off-target');
});

test('what no single change and no pair puts right is not proved, and says what was tried', () => {
  // The program never looks: it says none at once.
  const patches = [
    [
      [0xad, 0x17, 0x40, 0x29, 0x08],
      [0xa9, 0x08, 0xea],
    ],
  ] as const;
  const shots = [{ aim: { x: 128, y: 112 }, atMs: 500 }];
  const explanation = explainShot(firstLight({ patches, shots, lightPath: { panel: { kind: 'lcd' } } }), 0);
  expect(explanation.kind).toBe('not proved');
  expect(explanation).toHaveProperty('tried');
});
