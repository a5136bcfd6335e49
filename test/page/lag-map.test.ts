import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { prepareScenario } from '../../src/shot/prepared-scenario.ts';
import { rehearse } from '../../src/shot/rehearsal.ts';
import { parseScenario } from '../../src/shot/scenario.ts';
import { runShot } from '../../src/shot/shot.ts';
import { drawnScenario, runCell } from '../../src/sweep/cell-run.ts';
import { openPlan, type Sweep } from '../../src/sweep/plan.ts';
import { FIRST_STATE } from '../../src/ui/bench/bench-state.ts';
import { costMs } from '../../src/ui/lag-map/estimate.ts';
import { openOnPage } from '../../src/ui/lag-map/opened-plan.ts';
import type { LoadedProgram } from '../../src/ui/lag-map/plan-choices.ts';
import { firstValues, formOf, planOf } from '../../src/ui/lag-map/plan-form.ts';
import { DISK } from '../sweep/plans.ts';
import recorded from './lag-map-hash.json';
import { COMPARED, hashOfCells, smallValues } from './lag-map-plan.ts';

const LAMPLIGHTER = 'homebrew-demo/lamplighter';
const program = (id: string, scenario: string): LoadedProgram => ({
  id,
  title: id,
  image: DISK.bytes(`${LAMPLIGHTER}/${id}.bin`),
  labels: DISK.text(`${LAMPLIGHTER}/${id}.lbl`),
  scenario: DISK.text(`${LAMPLIGHTER}/${scenario}`),
});
const PROGRAMS = [
  program('same-frame-untested', 'tube.json'),
  program('same-frame-tested', 'tube.json'),
  program('fixed-delay', 'tube.json'),
  program('calibrated', 'calibrated-late-lcd.json'),
];

/** As the command reads it: from a file beside the programs. */
function openedByCommand(plan: unknown): Sweep {
  const path = `${LAMPLIGHTER}/lag-map.json`;
  return openPlan(path, { ...DISK, text: (asked) => (asked === path ? JSON.stringify(plan) : DISK.text(asked)) });
}

describe('a saved plan', () => {
  const values = firstValues(FIRST_STATE, PROGRAMS);
  const plan = planOf(values, FIRST_STATE, PROGRAMS);

  test('is the plan file of the command, cell by cell', () => {
    const [page, command] = [openOnPage(JSON.stringify(plan), PROGRAMS).sweep, openedByCommand(plan)];
    expect(command.cellCount).toBe(4 * 2 * 11 * 4);
    expect(command.entries).toEqual(page.entries);
    expect(command.document).toEqual(page.document);
  });

  test('names only files that lie beside each other', () => {
    for (const { scenario } of openOnPage(JSON.stringify(plan), PROGRAMS).sweep.strategies)
      expect(() => readFileSync(`${LAMPLIGHTER}/${scenario.image}`)).not.toThrow();
  });

  test('is the form again when it is opened', () => {
    expect(formOf(JSON.parse(JSON.stringify(plan)), FIRST_STATE, PROGRAMS)?.values).toEqual(values);
  });

  test('gives the calibrated program, and no other, its pull at the mark', () => {
    const { sweep } = openOnPage(JSON.stringify(plan), PROGRAMS);
    expect(sweep.strategies.map(({ scenario }) => scenario.pulls.length)).toEqual([0, 0, 0, 1]);
    for (const { scenario } of sweep.strategies) expect(scenario.shots.map(({ atMs }) => atMs)).toEqual([5000]);
  });
});

test('the small sweep of the page gives the bytes on record (Node)', () => {
  const titles: Readonly<Record<string, string>> = {
    'same-frame-tested': 'same frame, tested dark',
    'fixed-delay': 'fixed delay',
  };
  const named = PROGRAMS.map((one) => ({ ...one, title: titles[one.id] ?? one.id }));
  const { sweep } = openOnPage(JSON.stringify(planOf(smallValues(FIRST_STATE, named), FIRST_STATE, named)), named);
  expect(sweep.entries.strategy.length).toBe(COMPARED.length);
  const results = Array.from({ length: sweep.cellCount }, (_, cell) => runCell(sweep, cell));
  expect(hashOfCells(results)).toBe(recorded.small);
});

/**
 * Runs of the page in Chromium by one worker, on two cores of a shared machine, ms from the first shots that were told to the
 * end. Ids of strategies, shots at each aim.
 */
const MEASURED: readonly (readonly [without: readonly string[], shots: string, ms: number])[] = [
  [[], '5', 20_922],
  [[], '1', 13_894],
  [['calibrated'], '5', 9424],
  [['calibrated'], '40', 37_951],
  [['same-frame-tested', 'fixed-delay'], '5', 11_695],
];

test.each(MEASURED)(
  'without %j, %s shots at each aim: reckoned is what was measured, to a quarter',
  (without, shots, ms) => {
    const first = firstValues(FIRST_STATE, PROGRAMS);
    const strategies = first.strategies.filter((id) => !without.includes(id));
    const plan = planOf({ ...first, strategies, shots }, FIRST_STATE, PROGRAMS);
    const { sweep } = openOnPage(JSON.stringify(plan), PROGRAMS);
    const reckoned = costMs(
      sweep,
      Array.from({ length: sweep.cellCount }, (_, cell) => cell),
    );
    expect(reckoned / ms).toBeGreaterThan(0.75);
    expect(reckoned / ms).toBeLessThan(1.25);
  },
);

test("the scenario of a cell's shot, played as the bench plays it, is the shot of the sweep", () => {
  const values = { ...smallValues(FIRST_STATE, PROGRAMS), toMs: '40' };
  const { sweep } = openOnPage(JSON.stringify(planOf(values, FIRST_STATE, PROGRAMS)), PROGRAMS);
  const pulled = new Set<number>();
  for (const cell of [0, 3, sweep.cellCount - 1])
    for (const shot of [0, 2]) {
      const text = JSON.stringify(drawnScenario(sweep, cell, shot));
      const scenario = parseScenario(text);
      const { image, labels } = PROGRAMS.find(({ id }) => scenario.image.includes(id))!;
      const prepared = prepareScenario(scenario, { image, labels });
      const { outcome } = rehearse(prepared, scenario.shots[0]!.aim);
      if (outcome.kind !== 'judged') throw outcome.error;
      const { ticks, judgement, reads, flips } = runShot(prepared, 0);
      expect(outcome.result).toMatchObject({ ticks, judgement });
      expect([...outcome.result.reads]).toEqual([...reads]);
      const since = (tick: number): boolean => tick >= ticks.trigger && tick <= ticks.decision!;
      expect(outcome.result.flips.filter(since)).toEqual(flips.filter(since));
      pulled.add(scenario.shots[0]!.atMs);
    }
  // By shot its phase was drawn, the same in every cell.
  expect(pulled.size).toBe(2);
});
