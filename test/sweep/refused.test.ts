import { beforeAll, describe, expect, test } from 'vitest';
import { type CellResult, drawnScenario, runCell } from '../../src/sweep/cell-run.ts';
import { compareStrategies } from '../../src/sweep/comparison.ts';
import type { Sweep } from '../../src/sweep/plan.ts';
import { sweepCsv } from '../../src/sweep/report/csv-report.ts';
import { sweepJson } from '../../src/sweep/report/json-report.ts';
import { sweepJunit } from '../../src/sweep/report/junit-report.ts';
import { sweepText } from '../../src/sweep/report/text-report.ts';
import { summarize } from '../../src/sweep/summary.ts';
import { openDocument } from './plans.ts';

const CALIBRATION = { at: 'delayUnits', bytes: 2, unitCycles: 909.33 };
const REFUSED = 'byte(calibration) >= 129';
/** Light that stays for longer than two pulses allow: "pulse of wrong length". */
const SLOW = { kind: 'lcd', fallMs: 180 };

/** Lamplighter, calibrated, aimed at its middle lamp. */
const plan = (calibration: object | undefined, more: object = {}): Sweep =>
  openDocument(
    {
      sweep: 1,
      title: 'calibrations',
      scenario: 'calibrated-late-lcd.json',
      n: 3,
      strategies: { calibrated: calibration === undefined ? {} : { calibration } },
      panels: { quick: { kind: 'lcd' }, slow: SLOW },
      aims: { lamp: { x: 132, y: 120 } },
      ...more,
    },
    'homebrew-demo/lamplighter',
  );

describe('a calibration that the program refuses', () => {
  const sweep = plan(
    { ...CALIBRATION, refused: REFUSED },
    {
      passLimits: [
        { measure: 'right', atLeast: 0.3, overCells: 'each' },
        { measure: 'calibration refused', atMost: 0.7, overCells: 'each' },
      ],
    },
  );
  let results: readonly CellResult[];
  beforeAll(() => {
    results = [runCell(sweep, 0), runCell(sweep, 1)];
  });

  test('is one too where the aim is told by its target, which then is not there', () => {
    const byTarget = plan({ ...CALIBRATION, refused: REFUSED }, { aims: { lamp: { target: 0 } } });
    expect(runCell(byTarget, 1)).toMatchObject({ outcomes: 'r3', refused: null });
    expect(runCell(byTarget, 0)).toMatchObject({ outcomes: 'h3', refused: null });
    expect(drawnScenario(byTarget, 1, 0).shots[0]!.aim).toEqual({ x: 128, y: 120 });
  });

  test('is an outcome of its own: no wrong shot, and in no rate but its own', () => {
    expect(results.map(({ outcomes, firstWrong }) => [outcomes, firstWrong])).toEqual([
      ['h3', null],
      ['r3', null],
    ]);
    const { cells, refusedCalibrations } = summarize(sweep, results);
    expect(refusedCalibrations).toBe(3);
    expect(cells[1]!.rates.right).toMatchObject({ events: 0, n: 0, rate: null });
    expect(cells[1]!.rates['no decision']).toMatchObject({ n: 0 });
    expect(cells[1]!.rates['calibration refused']).toMatchObject({ events: 3, n: 3, rate: 1 });
    expect(cells[0]!.rates['calibration refused']).toMatchObject({ events: 0, n: 3, rate: 0 });
  });

  test('without "refused" in the scenario the same shots are wrong: the program says nothing', () => {
    const { outcomes, firstWrong } = runCell(plan(CALIBRATION), 1);
    expect([outcomes, firstWrong?.outcome]).toEqual(['D3', 'no decision']);
  });

  test('is the same from a shared start and from power-on, and on the reference console', () => {
    for (const cell of [0, 1]) expect(runCell(sweep, cell, { sharesStart: false })).toEqual(results[cell]);
    expect(runCell({ ...sweep, document: { ...sweep.document, n: 1 } }, 1, { engine: 'reference' }).outcomes).toBe('r');
    expect(drawnScenario(sweep, 1, 0).calibration).toEqual({ ...CALIBRATION, refused: REFUSED });
  });

  test('a limit is not shown by a cell that could not calibrate; one on refusals can be set', () => {
    const { limits, isPassed } = summarize(sweep, results);
    expect(limits.map((limit) => limit.cells.map(({ verdict, n }) => [verdict, n]))).toEqual([
      [
        ['shown', 3],
        ['open', 0],
      ],
      [
        ['shown', 3],
        ['open', 3],
      ],
    ]);
    expect(isPassed).toBe(false);
  });

  test('every report tells it apart', () => {
    const summary = summarize(sweep, results);
    const text = sweepText(summary);
    expect(text).toContain('calibration refused: 3 of 6 shots were not taken, in no rate but their own');
    expect(text).toMatch(/1 +calibrated +slow +lamp +- +3 calibration refused +- +100\.00 {2}43\.85 to 100\.00/);
    expect(text).toContain('0 of 0, every calibration was refused');
    const [head, first, second] = sweepCsv(summary)
      .split('\r\n')
      .map((line) => line.split(','));
    const column = (name: string): string[] => [first!, second!].map((row) => row[head!.indexOf(name)]!);
    expect(column('calibrations refused')).toEqual(['0', '3']);
    expect(column('calibration refused rate')).toEqual(['0', '1']);
    expect(column('right rate')).toEqual(['1', '']);
    const json = JSON.parse(sweepJson(summary));
    expect([json.refusedCalibrations, json.cells[1].counts.r, json.cells[1].rates['calibration refused'].rate]).toEqual(
      [3, 3, 1],
    );
    const xml = sweepJunit(summary);
    expect(xml).toContain('<testsuite name="calibrations" tests="2" failures="0" errors="0" skipped="1">');
    expect(xml).toContain('<skipped message="3 of 3 calibrations refused: these shots were not taken"/>');
  });

  test('leaves a pair of strategies out of their comparison', () => {
    const both = plan(undefined, {
      strategies: { one: {}, two: { calibration: { ...CALIBRATION, refused: REFUSED } } },
    });
    const cells = [0, 1, 2, 3].map((cell) => runCell(both, cell));
    expect(compareStrategies(both, cells).map(({ n }) => n)).toEqual([3, 0]);
  });
});
