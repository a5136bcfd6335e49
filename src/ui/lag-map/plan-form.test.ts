import { describe, expect, test } from 'vitest';
import { readLightPathSettings } from '../../shot/light-path-settings.ts';
import { checkPlanDocument } from '../../sweep/plan-format.ts';
import { FIRST_STATE } from '../bench/bench-state.ts';
import type { BenchSetUp, LoadedProgram } from './plan-choices.ts';
import { aimChoices, benchPanel, panelChoices } from './plan-choices.ts';
import { type FormValues, firstValues, formFaults, formOf, planOf } from './plan-form.ts';

const scenario = (more: Readonly<Record<string, unknown>>): string =>
  JSON.stringify({ scenario: 1, title: 't', image: 'a', targets: { count: 1 }, said: 'x', lightPath: {}, ...more });
const program = (id: string, more: Readonly<Record<string, unknown>>): LoadedProgram => ({
  id,
  title: `the ${id}`,
  image: new Uint8Array(),
  labels: '',
  scenario: scenario(more),
});
const PROGRAMS = [
  program('plain', { shots: [{ aim: { x: 1, y: 2 }, atMs: 1500 }] }),
  program('slow', {
    shots: [{ aim: { x: 3, y: 4 }, atMs: 5000 }],
    pulls: [{ aim: { x: 0, y: 0 }, atMs: 9 }],
    said: 'y',
  }),
];
const FIRST = firstValues(FIRST_STATE, PROGRAMS);
const faultsOf = (change: Partial<FormValues>): string[] =>
  formFaults({ ...FIRST, ...change }, FIRST_STATE, PROGRAMS).map(({ field, text }) => `${field} | ${text}`);

describe('what is typed', () => {
  test('at first has no fault', () => {
    expect(faultsOf({})).toEqual([]);
  });

  test.each([
    [{ fromMs: 'soon' }, 'fromMs | delay from: found "soon", expected a number from 0 to 500'],
    [{ toMs: '501' }, 'toMs | delay to: found "501", expected a number from 0 to 500'],
    [{ toMs: '' }, 'toMs | delay to: found "", expected a number from 0 to 500'],
    [{ stepMs: '0' }, 'stepMs | step: found "0", expected a number from 0.001 to 500'],
    [{ stepMs: '1e1' }, 'stepMs | step: found "1e1", expected a number from 0.001 to 500'],
    [{ fromMs: '60', toMs: '50' }, 'toMs | delay to: found 50, expected 60 or more, where the delays begin'],
    [{ toMs: '100', stepMs: '0.5' }, 'stepMs | step: found 201 delays, expected 200 at most'],
    [{ shots: '2.5' }, 'shots | shots: found "2.5", expected a whole number from 1 to 100000'],
    [{ strategies: [] }, 'strategies | strategies: found none, expected one or more'],
    [{ panels: ['of yesterday'] }, 'panels | panels: found none, expected one or more'],
    [{ aims: [] }, 'aims | aims: found none, expected one or more'],
  ])('%o is refused: %s', (change, fault) => {
    expect(faultsOf(change)).toEqual([fault]);
  });

  test('all faults are told at once', () => {
    expect(faultsOf({ fromMs: 'a', toMs: 'b', stepMs: 'c', shots: 'd' }).length).toBe(4);
  });

  test('shots do not matter where nothing is drawn by lot', () => {
    expect(faultsOf({ shots: 'x', isRandom: false })).toEqual([]);
    expect(planOf({ ...FIRST, shots: 'x', isRandom: false }, FIRST_STATE, PROGRAMS)).toMatchObject({
      n: 1,
      random: [],
    });
  });
});

describe('the plan', () => {
  const plan = planOf({ ...FIRST, toMs: '33,5' }, FIRST_STATE, PROGRAMS);

  test('is one by the format of the command', () => {
    const faults: string[] = [];
    expect(checkPlanDocument(plan, faults)).toBeDefined();
    expect(faults).toEqual([]);
  });

  test('has what was typed, and the bench', () => {
    expect(plan).toMatchObject({
      delays: { fromMs: 0, toMs: 33.5, stepMs: 10 },
      n: 5,
      aims: { 'x 1, y 2': { x: 1, y: 2 }, 'x 3, y 4': { x: 3, y: 4 }, 'x 52, y 36': { x: 52, y: 36 } },
      scenario: { shots: [{ aim: { x: 52, y: 36 }, atMs: 5000 }], lightPath: { panel: { kind: 'beam-tube' } } },
    });
    expect(plan['random']).toBeUndefined();
  });

  test('leaves to each strategy what only it has, or has otherwise', () => {
    expect(plan['scenario']).not.toHaveProperty('pulls');
    expect(plan['strategies']).toEqual({
      'the plain': { image: 'plain.bin', labels: 'plain.lbl' },
      'the slow': { image: 'slow.bin', labels: 'slow.lbl', pulls: [{ aim: { x: 0, y: 0 }, atMs: 9 }], said: 'y' },
    });
  });

  test('varies the delay that stands on the bench, if there is one', () => {
    const lightPath = readLightPathSettings(
      { ...FIRST_STATE.lightPath, stages: [{ kind: 'frame-buffer' }, { kind: 'pure-delay', delayMs: 50 }] },
      [],
    );
    expect(planOf(FIRST, { ...FIRST_STATE, lightPath }, PROGRAMS)).toMatchObject({ delayStage: 1 });
    expect(plan).not.toHaveProperty('delayStage');
  });

  test('is the form again; with the light path that it was made with', () => {
    const other: BenchSetUp = { ...FIRST_STATE, aim: { x: 9, y: 9 } };
    const values = { ...FIRST, toMs: '33.5' };
    expect(formOf(plan, FIRST_STATE, PROGRAMS)).toEqual({ values, setUp: FIRST_STATE });
    expect(formOf(plan, other, PROGRAMS)).toEqual({
      values,
      setUp: { lightPath: FIRST_STATE.lightPath, aim: FIRST_STATE.aim },
    });
  });

  test.each([
    ['rooms', { rooms: { dark: { kind: 'constant-light', illuminanceLux: 0 } } }],
    ['a list of delays', { delays: [0, 10] }],
    ['a limit', { passLimits: [{ measure: 'right', atLeast: 0.9 }] }],
    ['a seed', { seed: 7 }],
    ['a scenario in a file', { scenario: 'tube.json' }],
  ])('with %s is more than the form can show', (_, more) => {
    expect(formOf({ ...plan, ...more }, FIRST_STATE, PROGRAMS)).toBeUndefined();
  });
});

describe('choices', () => {
  test('a panel of the bench that has the standard values is that panel', () => {
    expect(panelChoices(FIRST_STATE).length).toBe(2);
    expect(benchPanel(FIRST_STATE)).toBe(panelChoices(FIRST_STATE)[0]!.name);
  });

  test('one with other values is one more', () => {
    const lightPath = readLightPathSettings({ ...FIRST_STATE.lightPath, panel: { kind: 'lcd', riseMs: 7 } }, []);
    const setUp = { ...FIRST_STATE, lightPath };
    expect(panelChoices(setUp).length).toBe(3);
    expect(panelChoices(setUp)[2]!.setting).toEqual({ kind: 'lcd', riseMs: 7 });
    expect(benchPanel(setUp)).toBe('LCD of the bench');
  });

  test('an aim that is in a scenario already is not there twice', () => {
    const names = aimChoices({ ...FIRST_STATE, aim: { x: 1.0001, y: 2 } }, PROGRAMS).map(({ name }) => name);
    expect(names).toEqual(['x 1, y 2', 'x 3, y 4']);
  });
});
