import { describe, expect, test } from 'vitest';
import { type Explanation, explain, explainShot } from '../../src/shot/cause/explain.ts';
import { round } from '../../src/shot/cause/facts.ts';
import { INTERVENTIONS } from '../../src/shot/cause/index.ts';
import type { CauseId, Field } from '../../src/shot/cause/intervention.ts';
import { observeShot } from '../../src/shot/cause/observation.ts';
import { spanText } from '../../src/shot/sentence.ts';
import { hex } from '../../src/units/hex.ts';
import { firstLight } from '../first-light.ts';
import { PLANTS } from './plants/index.ts';
import { cured, curedProgram, prepareOf, withEntries } from './plants/plant.ts';
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

/** Numbers of a text, those of units left out that are no measure of this shot. */
const numbersIn = (text: string): string[] =>
  text.replace(/bit \d|\(0 means light\)|10 to 90 %|m2/g, '').match(/\$[0-9A-F]+|\d+(\.\d+)?/g) ?? [];

/** Every way in which a sentence may write a field: spans of time, decimals as they are due, addresses, shares in %. */
function textsOf({ value, unit }: Field): string[] {
  const size = Math.abs(value);
  const texts = [String(size), round(size)];
  if (unit === 'ms') return [...texts, spanText(size).split(' ')[0]!, size.toFixed(1)];
  return unit === '' ? [...texts, hex(size, 2), hex(size, 4), (100 * size).toFixed(0)] : texts;
}

const nameOf = (explanation: Explanation): string =>
  explanation.kind === 'proved' ? explanation.causes[0]!.id : explanation.kind;

/**
 * What right shots have a little of as well: no aim is at the very centre, no panel answers at once, a box stands a picture or
 * two behind, light goes between two pictures' looks, a scene is lit until it is black, and a program holds its delay rounded.
 */
const COMMON: readonly CauseId[] = [
  'off-target',
  'slow-panel',
  'box-elsewhere',
  'light-gone',
  'still-lit',
  'miscalibrated',
];

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
  'earlier-flash': 'dark before',
  'room-light': 'dark room',
  'too-dim': 'threshold halved',
  'too-early': 'no delay',
  'picture-early': 'picture later',
  'slow-panel': 'ideal panel',
  'blind-sensor': 'ideal sensor',
};

/** Kinds that are also found by moving the picture in time when nothing else is. */
const MOVED: readonly CauseId[] = ['too-early', 'picture-early'];

describe.each(PLANTS.map((plant) => [plant.id, plant] as const))('%s', (id, plant) => {
  const shots: readonly Planted[] = take(planted(plant, SEED), EACH);

  test('is named, each field is in the sentence or the cure, each number of the sentence a field, and the cure cures', () => {
    expect(shots.length).toBe(EACH);
    for (const { prepared, setting } of shots) {
      const explanation = explainShot(prepared, 0);
      expect([nameOf(explanation), JSON.stringify(setting)]).toEqual([id, JSON.stringify(setting)]);
      if (explanation.kind !== 'proved') continue;
      const [{ sentence, cure, fields, interventions }] = explanation.causes as [(typeof explanation.causes)[0]];
      expect(interventions).toEqual([NAME_OF[id]]);
      expect(cure.changes.length).toBeGreaterThan(0);
      const said = numbersIn(`${sentence} ${cure.text}`);
      const unsaid = Object.entries(fields).filter(([, one]) => !textsOf(one).some((text) => said.includes(text)));
      expect([unsaid, sentence]).toEqual([[], sentence]);
      const known = Object.values(fields).flatMap(textsOf);
      expect(numbersIn(sentence).length).toBeGreaterThan(0);
      expect([numbersIn(sentence).filter((text) => !known.includes(text)), fields]).toEqual([[], fields]);
      expect(verdictOf(cured(plant, setting, { cure })).is).toBe('right');
    }
  });

  test('has more evidence than the right shot under it, which has none or what every shot has', () => {
    const { evidence } = INTERVENTIONS.find(({ name }) => name === NAME_OF[id])!;
    for (const { base, prepared } of shots) {
      const [right, wrong] = [prepareOf(plant)(base), prepared].map((one) => evidence(observeShot(one, 0))) as [
        number,
        number,
      ];
      expect(wrong).toBeGreaterThan(right);
      if (!COMMON.includes(id)) expect(right).toBe(0);
    }
  });

  test('without its evidence it is not named', () => {
    const names = [NAME_OF[id], ...(MOVED.includes(id) ? ['picture in time'] : [])];
    const blind = INTERVENTIONS.map((one) => (names.includes(one.name) ? { ...one, evidence: () => 0 } : one));
    expect(nameOf(explainShot(shots[0]!.prepared, 0, { interventions: blind }))).not.toBe(id);
  });

  test('the right shot under it needs no cause, and explaining twice gives the same bytes', () => {
    const { base, prepared } = shots[0]!;
    expect(explainShot(prepareOf(plant)(base), 0)).toEqual({ kind: 'right' });
    const first = observeShot(prepared, 0);
    expect(JSON.stringify(explain(first))).toBe(JSON.stringify(explainShot(prepared, 0)));
  });
});

test('stopping at the first cause gives the same sentence, and nothing else', () => {
  let others = 0;
  for (const plant of PLANTS) {
    for (const { prepared } of take(planted(plant, SEED + 2), 1)) {
      const first = observeShot(prepared, 0);
      const [all, one] = [explain(first), explain(first, { stopsAtFirst: true })];
      if (all.kind !== 'proved' || one.kind !== 'proved') throw new Error(`${plant.id}: ${all.kind}, ${one.kind}`);
      expect(one.causes).toEqual(all.causes.slice(0, all.causes[0]!.interventions.length));
      others += all.causes.length - one.causes.length;
    }
  }
  expect(others).toBeGreaterThan(0);
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
  expect(explanation).toEqual({ kind: 'not proved', tried: ['ideal panel', 'picture in time'] });
});

describe('a trigger that the program ignores', () => {
  const plant = PLANTS.find(({ id }) => id === 'trigger-late')!;

  test('is named when the program waits for longer than the contact is closed', () => {
    const [{ setting }] = take(planted(plant, SEED), 1) as [Planted];
    const [plan] = setting.document['shots'] as readonly object[];
    const short = withEntries(setting, { shots: [{ ...plan, squeezeMs: 80 }] });
    const explanation = explainShot(prepareOf(plant)(short), 0);
    expect(explanation).toMatchObject({
      causes: [{ id: 'trigger-late', fields: { closed: { value: 80 }, debounce: { value: 3 } } }],
    });
  });

  test('is none where the shot ends before an answer could have come', () => {
    const first = observeShot(firstLight({ shots: [{ aim: { x: 128, y: 112 }, atMs: 508 }], deadlineFrames: 2 }), 0);
    expect(first.result.judgement).toBe('no decision');
    expect(first.record.firstClosedRead(2, first.result.ticks.trigger)).toBeDefined();
    expect(nameOf(explain(first))).toBe('not proved');
  });
});

test('explaining leaves the image as it is, also one that is a part of a file as Node reads it', () => {
  const [{ prepared }] = take(planted(PLANTS.find(({ id }) => id === 'jam')!, SEED), 1) as [Planted];
  const program = Buffer.from(prepared.image.program);
  const before = [...program];
  const explanation = explainShot({ ...prepared, image: { ...prepared.image, program } }, 0);
  expect([...program]).toEqual(before);
  expect(explanation).toEqual(explainShot(prepared, 0));
});

test('NMI is off from the write before the first blank without one, whatever is written later', () => {
  const [{ prepared }] = take(planted(PLANTS.find(({ id }) => id === 'no-nmi')!, SEED), 1) as [Planted];
  const first = observeShot(prepared, 0);
  const before = explain(first);
  expect(nameOf(before)).toBe('no-nmi');
  first.record.writes.push({ tick: first.result.ticks.deadline - 1, address: 0x2000, value: 0 });
  expect(explain(first)).toEqual(before);
});
