import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { changedScenario } from '../../src/shot/cause/apply-cure.ts';
import { type Cause, explainShot } from '../../src/shot/cause/explain.ts';
import { INTERVENTIONS } from '../../src/shot/cause/index.ts';
import type { CauseId, Change } from '../../src/shot/cause/intervention.ts';
import { NO_DELAY } from '../../src/shot/cause/interventions/no-delay.ts';
import { TRIGGER_AT_ONCE } from '../../src/shot/cause/interventions/trigger-at-once.ts';
import { observeShot } from '../../src/shot/cause/observation.ts';
import { darkTick, firstWorld } from '../../src/shot/cause/rerun.ts';
import { type PreparedScenario, prepareScenario } from '../../src/shot/prepared-scenario.ts';
import { checkScenario } from '../../src/shot/scenario.ts';
import { runShot } from '../../src/shot/shot.ts';
import { ticksPerFrame } from '../../src/units/timing.ts';
import { firstLight } from '../first-light.ts';
import { PLANTS } from './plants/index.ts';
import { Lot } from './plants/lot.ts';
import { cured, curedProgram, type Plant, pathOf, prepareOf } from './plants/plant.ts';
import { planted, verdictOf } from './plants/planted.ts';
import { type Constants, FIRST_LIGHT, prepareTarget } from './plants/target.ts';

const plantOf = (id: CauseId): Plant => PLANTS.find((plant) => plant.id === id)!;

function* take<Item>(items: Iterable<Item>, count: number): Generator<Item> {
  let taken = 0;
  for (const item of items) {
    yield item;
    if (++taken === count) return;
  }
}

function causesOf(prepared: PreparedScenario, interventions = INTERVENTIONS): readonly Cause[] {
  const explanation = explainShot(prepared, 0, { interventions });
  return explanation.kind === 'proved' ? explanation.causes : [];
}

const ON_LAMP = { x: 128, y: 112 };
const LCD = { kind: 'lcd', riseMs: 3, fallMs: 3 };
const late = (delayMs: number) => [{ kind: 'pure-delay', delayMs }];

interface Shot {
  readonly constants?: Partial<Constants>;
  readonly path?: object;
  readonly changes?: object;
  readonly atMs?: number;
}

/** The target program and its lamp at (120, 104), the wand on it. */
const shot = ({ constants, path, changes, atMs = 503 }: Shot): PreparedScenario =>
  prepareTarget({
    constants: { ...FIRST_LIGHT, ...constants },
    document: {
      lightPath: {
        stages: [],
        room: { kind: 'constant-light', illuminanceLux: 20 },
        panel: LCD,
        optics: { kind: 'gaussian-spot', radiusDots: 5 },
        sensor: { kind: 'wide-band' },
        ...path,
      },
      shots: [{ aim: ON_LAMP, atMs }],
      ...changes,
    },
  });

describe('a program of the right polarity', () => {
  test('that waits for a later panel, and sees that the light is there too soon, is not taken for one of the wrong polarity', () => {
    const others = INTERVENTIONS.filter(({ name }) => name !== 'picture later');
    for (const { prepared } of take(planted(plantOf('picture-early'), 77), 6))
      expect(causesOf(prepared, others).map(({ id }) => id)).not.toContain('wrong-polarity');
  });
});

test('a picture that comes without any delay is told from one that the program waits for, whatever the pictures kept', () => {
  const constants = { SKIP_DARK: 1, BOX_FRAMES: 2, SKIP_FRAMES: 3 };
  for (const delayMs of [0, 5, 12]) {
    const prepared = shot({ constants, path: { stages: late(delayMs) } });
    expect([delayMs, runShot(prepared, 0).judgement]).toEqual([delayMs, 'miss']);
    const names = causesOf(prepared).map(({ id }) => id);
    expect([delayMs, names]).toEqual([delayMs, expect.arrayContaining(['picture-early'])]);
  }
});

test('a picture that comes too early is also mended by a shorter wait', () => {
  const plant = plantOf('picture-early');
  let [right, all] = [0, 0];
  for (const { prepared, setting } of take(planted(plant, 78), 12)) {
    const cause = causesOf(prepared).find(({ id }) => id === 'picture-early');
    if (cause === undefined) continue;
    all++;
    if (verdictOf(prepareOf(plant)(curedProgram(setting, cause.cure.changes))).is === 'right') right++;
  }
  expect(all).toBeGreaterThanOrEqual(10);
  expect(right).toBe(all);
});

describe('light that the sensor is used to', () => {
  const day = (changes: Shot) =>
    shot({ ...changes, path: { sensor: { kind: 'wide-band', thresholdCdM2: 100 }, ...changes.path }, atMs: 16_003 });

  test('is not taken for light that is still up when the picture goes black', () => {
    const panel = { ...LCD, fallMs: 60 };
    const first = observeShot(day({ constants: { SKY: 0x21, LAMP: 0x21, BLACK_FRAMES: 4 }, path: { panel } }), 0);
    const { trigger, decision } = first.result.ticks;
    const frame = ticksPerFrame(first.prepared.timing);
    expect(first.result.flips.filter((tick) => tick > trigger - 20 * frame && tick < trigger + 4 * frame)).toEqual([]);
    const black = first.pictures.find(({ spotLight }) => spotLight < 0.01)!.index;
    const retouch = { ...firstWorld(first).retouch, blackFrom: black };
    const dark = darkTick(first, { ...firstWorld(first), retouch }, trigger, trigger + 60 * frame);
    expect(dark).toBe(trigger);
    expect(decision).not.toBeNull();
  });

  test('a scene that goes black answers the trigger, also where the target itself is as dark as before', () => {
    const first = observeShot(shot({ constants: { SKY: 0x21, LAMP: 0x0f, BLACK_FRAMES: 14 } }), 0);
    expect(TRIGGER_AT_ONCE.evidence(first)).toBe(0);
  });
});

test('a hit before the light of the flash has come is right by accident: no cause', () => {
  // Behind 20 ms the sky's last picture passes between the trigger's read and the look, and the flash comes after it.
  const prepared = shot({
    constants: { SKY: 0x21, LAMP: 0x20, LAMP_Y: 90 },
    path: { panel: { kind: 'beam-tube' }, stages: late(20) },
    changes: { shots: [{ aim: { x: 128, y: 98 }, atMs: 503 }] },
  });
  expect(runShot(prepared, 0).judgement).toBe('miss');
  expect(causesOf(prepared).map(({ id }) => id)).toEqual(['too-early']);
});

test('a held button that stops the shot is no wrong port: the pad stays where it is', () => {
  const pads = [{ port: 1, button: 'A', fromMs: 400, toMs: 900 }];
  const prepared = shot({ constants: { PAD_STOPS: 1 }, changes: { pads } });
  expect(runShot(shot({ constants: { PAD_STOPS: 1 } }), 0).judgement).toBe('hit');
  expect(runShot(prepared, 0).judgement).toBe('miss');
  expect(causesOf(prepared).map(({ id }) => id)).not.toContain('wrong-port');
});

test('a black that is too bright is no slow panel', () => {
  const panel = { ...LCD, whiteCdM2: 120, blackCdM2: 100 };
  const prepared = shot({ path: { panel, sensor: { kind: 'wide-band', thresholdCdM2: 60 } } });
  expect(runShot(prepared, 0).judgement).toBe('miss');
  expect(causesOf(prepared).map(({ id }) => id)).not.toContain('slow-panel');
});

describe('an edge', () => {
  const edge = (radiusDots: number) =>
    firstLight({
      shots: [{ aim: { x: 137, y: 112 }, atMs: 500 }],
      lightPath: { optics: { kind: 'gaussian-spot', radiusDots } },
    });

  test('is not cured by a centre that is an edge as well', () => {
    expect(runShot(edge(16), 0).judgement).toBe('edge');
    expect(explainShot(edge(16), 0)).toEqual({ kind: 'not proved', tried: ['aim at the centre'] });
  });

  test('is looked at for another aim only', () => {
    const untried = INTERVENTIONS.map((one) => {
      const refuse = () => {
        throw new Error(`${one.name} is tried`);
      };
      return one.movesAim === true ? one : { ...one, evidence: refuse, apply: refuse };
    });
    expect(causesOf(edge(6), untried).map(({ id }) => id)).toEqual(['off-target']);
    expect(causesOf(edge(16), untried)).toEqual([]);
  });
});

test('before a backlight that pulses it takes as many black pictures as the longest of its pulses says', () => {
  const plant = plantOf('still-lit');
  let pulsing = 0;
  for (const { prepared, setting } of planted(plant, 21)) {
    if (!(Number(pathOf(setting).panel['pwmHz']) > 0)) continue;
    const { id, cure } = causesOf(prepared)[0]!;
    expect([id, verdictOf(cured(plant, setting, { cure })).is]).toEqual(['still-lit', 'right']);
    if (++pulsing === 8) break;
  }
  expect(pulsing).toBe(8);
});

test('a screen turned up as far as the cure of a dim flash says makes the shot right', () => {
  let tried = 0;
  for (const { prepared } of take(planted(plantOf('too-dim'), 5), 12)) {
    const { cure, fields } = causesOf(prepared)[0]!;
    expect(cure.text).not.toMatch(/brighter by/);
    if (fields['white'] === undefined) continue;
    tried++;
    const change: Change = { in: 'scenario', path: 'lightPath.panel.whiteCdM2', value: fields['white'].value };
    expect(verdictOf({ ...prepared, scenario: changedScenario(prepared.scenario, [change]) }).is).toBe('right');
    expect(fields['factor']!.value).toBeGreaterThan(1);
  }
  expect(tried).toBeGreaterThan(8);
});

test('a program that stopped because it saw light is not told to look longer', () => {
  const panel = { ...LCD, fallMs: 60 };
  const prepared = shot({ constants: { SKY: 0x30, LAST_DARK: 1 }, path: { panel, stages: late(40) } });
  const first = observeShot(prepared, 0);
  const { crossing, lastRead } = first.result.ticks;
  expect([first.result.judgement, crossing! > lastRead!]).toEqual(['miss', true]);
  const { sentence, cure } = NO_DELAY.describe(first, firstWorld(first), () => true);
  expect(sentence).toMatch(/because it had read other light\.$/);
  expect(cure.text).toMatch(/^Choose/);
  expect(cure.changes.filter(({ in: place }) => place === 'program')).toEqual([]);
});

test('the limits of a pair hold together', () => {
  let pairs = 0;
  for (let draw = 0; draw < 60 && pairs < 8; draw++) {
    const lot = new Lot(99, draw);
    const path = {
      panel: { ...LCD, riseMs: lot.number(4, 9), whiteCdM2: 300 },
      stages: late(lot.number(15, 60)),
      sensor: { kind: 'wide-band', thresholdCdM2: lot.number(310, 500) },
    };
    const prepared = shot({ path, atMs: 500 + lot.number(0, 17) });
    const explanation = explainShot(prepared, 0);
    if (explanation.kind !== 'proved' || explanation.causes[0]!.interventions.length < 2) continue;
    pairs++;
    const changes = explanation.causes.flatMap(({ cure }) => cure.changes);
    const scenario = changedScenario(prepared.scenario, changes);
    expect([draw, verdictOf({ ...prepared, scenario }).is]).toEqual([draw, 'right']);
  }
  expect(pairs).toBe(8);
});

describe('a fault behind a trigger that was never acted on has its evidence once it is', () => {
  const DEAF = { DEBOUNCE: 15 };
  const AIMED_AT_NOTHING = { x: 25, y: 168 };
  const shots = (aim: object) => ({ shots: [{ aim, atMs: 503 }] });
  test.each([
    ['sprites are missing', shot({ constants: { ...DEAF, DECOYS: 9 } }), ['trigger-late', 'ninth-sprite']],
    [
      'dark is taken for light',
      shot({ constants: { ...DEAF, LIT: 1 }, changes: shots(AIMED_AT_NOTHING) }),
      ['trigger-late', 'wrong-polarity'],
    ],
    [
      'another port is read',
      shot({ constants: { ...DEAF, DEBOUNCE: 10 }, changes: { ports: ['light sensor', 'none'] } }),
      ['wrong-port', 'trigger-late'],
    ],
  ] as const)('%s', (_, prepared, ids) => {
    expect(causesOf(prepared).map(({ id }) => id)).toEqual(ids);
  });
});

describe('a program that looks for each target after a fixed delay', () => {
  const { calibration: _, ...document } = JSON.parse(
    readFileSync('homebrew-demo/lamplighter/calibrated-late-lcd.json', 'utf8'),
  );
  const files = {
    image: new Uint8Array(readFileSync('homebrew-demo/lamplighter/fixed-delay.bin')),
    labels: readFileSync('homebrew-demo/lamplighter/fixed-delay.lbl', 'utf8'),
  };
  const at = (delayMs: number, aim: object): PreparedScenario => {
    const stages = delayMs === 0 ? [] : late(delayMs);
    const lightPath = { ...document.lightPath, stages };
    return prepareScenario(checkScenario({ ...document, pulls: [], lightPath, shots: [{ aim, atMs: 1500 }] }), files);
  };
  const APART_MS = 1.5;
  const LAMPS = [
    { x: 52, y: 36 },
    { x: 132, y: 120 },
    { x: 212, y: 204 },
  ];

  test.each([0, 20, 40, 75, 80, 100, 120, 150])(
    '%d ms late: how much earlier or later, and no less is right',
    (delayMs) => {
      for (const aim of LAMPS) {
        const prepared = at(delayMs, aim);
        if (verdictOf(prepared).is === 'right') continue;
        const causes = causesOf(prepared);
        const isLate = delayMs > 60;
        expect([aim, causes.map(({ id }) => id)]).toEqual([aim, [isLate ? 'too-early' : 'picture-early']]);
        const { cure, fields } = causes[0]!;
        expect(verdictOf({ ...prepared, scenario: changedScenario(prepared.scenario, cure.changes) }).is).toBe('right');
        const off = fields[isLate ? 'late' : 'early']!.value;
        const told = delayMs + (isLate ? -off : off);
        expect([delayMs, verdictOf(at(told, aim)).is]).toEqual([delayMs, 'right']);
        // A run from power-on has another baseline of the sensor than one from a moment before the shot: the ends lie apart a little.
        const less = told + (isLate ? APART_MS : -APART_MS);
        expect([verdictOf(at(less, aim)).is, off]).toEqual(['wrong', off]);
      }
    },
  );
});
