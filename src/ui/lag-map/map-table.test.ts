import { describe, expect, test } from 'vitest';
import type { CellResult } from '../../sweep/cell-run.ts';
import { AS_SCENARIO, type AxisEntries, cellCount, cellPlace } from '../../sweep/cells.ts';
import { wilsonInterval } from '../../sweep/statistics/wilson.ts';
import {
  aimedWords,
  aimWords,
  cellText,
  edgesOf,
  knownRates,
  mapCell,
  mapTable,
  outcomeWords,
  rowText,
  tellingShot,
} from './map-table.ts';

const ENTRIES: AxisEntries = {
  strategy: ['same frame', 'calibrated'],
  hand: [AS_SCENARIO],
  delayMs: [40, 0, 20],
  panel: ['tube', 'LCD'],
  sensor: [AS_SCENARIO],
  room: [AS_SCENARIO],
  aim: ['left', 'right'],
};
const TABLE = mapTable(ENTRIES);

/** A cell with these outcomes, as a worker hands it out. */
const result = (cell: number, outcomes: string, more: Partial<CellResult> = {}): CellResult => ({
  cell,
  ...cellPlace(ENTRIES, cell),
  n: 10,
  x: 1,
  y: 2,
  outcomes,
  saidTwice: 0,
  decision: null,
  lightAfterLook: null,
  firstWrong: null,
  warnings: [],
  fingerprint: '',
  refused: null,
  ...more,
});

describe('the table', () => {
  test('has a row for each strategy and panel, and a column for each delay in order of time', () => {
    expect(TABLE.delays).toEqual([0, 20, 40]);
    expect(TABLE.rows.map(({ title, subtitle }) => `${title}/${subtitle}`)).toEqual([
      'same frame/tube',
      'same frame/LCD',
      'calibrated/tube',
      'calibrated/LCD',
    ]);
  });

  test('has every cell of the plan once, at its place, its aims together', () => {
    expect(TABLE.rows.flatMap(({ cells }) => cells.flat()).sort((a, b) => a - b)).toEqual(
      Array.from({ length: cellCount(ENTRIES) }, (_, cell) => cell),
    );
    for (const { title, subtitle, cells } of TABLE.rows)
      for (const [column, plan] of cells.entries())
        for (const [i, cell] of plan.entries())
          expect(cellPlace(ENTRIES, cell)).toMatchObject({
            strategy: title,
            panel: subtitle,
            delayMs: TABLE.delays[column],
            aim: ENTRIES.aim[i],
          });
  });
});

const PLAN = TABLE.rows[1]!.cells[2]!;

describe('a cell', () => {
  test('is known when all its aims are; its rate is that of all shots that count, with Wilson interval', () => {
    const half = knownRates([result(PLAN[0]!, 'h8m2')]);
    expect(mapCell(PLAN, half).right).toBeUndefined();
    expect(cellText(TABLE, half, 1, 2)).toBe('same frame, LCD, 40 ms late: not known yet, 1 of 2 aims done.');
    const { right } = mapCell(PLAN, knownRates([result(PLAN[0]!, 'h8m2'), result(PLAN[1]!, 'n7fe2')]));
    expect(right).toEqual({ events: 15, n: 18, rate: 15 / 18, interval: wilsonInterval(15, 18) });
  });

  test('says place, shots, rate, interval and what was not right', () => {
    const rates = knownRates([result(PLAN[0]!, 'h8m2'), result(PLAN[1]!, 'h9dm')].map((one) => one));
    expect(cellText(TABLE, rates, 1, 2)).toBe(
      'same frame, LCD, 40 ms late: right 17 of 21 shots, 81.0 %, 95 % interval 60.0 % to 92.3 %, sampled. Aimed at targets 17 of 21 hit. Not right: 3 × miss, 1 × no decision.',
    );
    expect(aimWords(mapCell(PLAN, rates))).toEqual(['left: right 8 of 10', 'right: right 9 of 11']);
  });

  test('says how many shots were aimed at targets and how many at nothing, where none is right', () => {
    const rates = knownRates([result(PLAN[0]!, 'h6m2de'), result(PLAN[1]!, 'n7fDe')]);
    expect(aimedWords(mapCell(PLAN, rates))).toBe('at targets 6 of 9 hit, at nothing 7 of 9 rightly none');
    expect(cellText(TABLE, rates, 1, 2)).toContain('right 13 of 18 shots');
    const empty = knownRates(PLAN.map((cell) => result(cell, 'n10')));
    expect(cellText(TABLE, empty, 1, 2)).toContain(' Aimed at nothing 20 of 20 rightly none.');
    expect(aimedWords(mapCell(PLAN, knownRates(PLAN.map((cell) => result(cell, 'e10')))))).toBe('');
  });

  test('in which only edges were shot has no rate, and says so', () => {
    const rates = knownRates(PLAN.map((cell) => result(cell, 'e10')));
    expect(mapCell(PLAN, rates).right?.rate).toBeNull();
    expect(cellText(TABLE, rates, 1, 2)).toContain('no shot that counts');
    expect(outcomeWords(mapCell(PLAN, rates))).toBe('20 × edge');
  });

  test('that was refused says why', () => {
    const rates = knownRates([
      result(PLAN[0]!, '', { refused: 'no target 3. Aim elsewhere' }),
      result(PLAN[1]!, 'h10'),
    ]);
    expect(mapCell(PLAN, rates).right).toBeUndefined();
    expect(cellText(TABLE, rates, 1, 2)).toBe('same frame, LCD, 40 ms late: refused. no target 3. Aim elsewhere');
  });

  test('opens its first wrong shot, or its very first', () => {
    const wrong = { shot: 4, outcome: 'miss', atMs: 1, sentence: 'too early' };
    const rates = knownRates([result(PLAN[0]!, 'h10'), result(PLAN[1]!, 'h3m7', { firstWrong: wrong })]);
    expect(tellingShot(mapCell(PLAN, rates))).toMatchObject({ result: { cell: PLAN[1] }, shot: 3, why: 'too early' });
    const right = knownRates(PLAN.map((cell) => result(cell, 'h10')));
    expect(tellingShot(mapCell(PLAN, right))).toMatchObject({ result: { cell: PLAN[0] }, shot: 0, why: '' });
    expect(tellingShot(mapCell(PLAN, knownRates([])))).toBeUndefined();
  });
});

describe('an edge', () => {
  /** A row with these outcomes at both aims of each column. */
  const row = (...columns: readonly string[]) =>
    columns.map((outcomes, column) => {
      const plan = TABLE.rows[0]!.cells[column]!;
      return mapCell(plan, knownRates(outcomes === '' ? [] : plan.map((cell) => result(cell, outcomes))));
    });

  test('lies where the rate crosses one half, sure if the intervals are apart', () => {
    expect(edgesOf(row('h10', 'm10', 'm10'))).toEqual([{ column: 0, isSure: true }]);
    expect(edgesOf(row('h10', 'h6m4', 'h4m6'))).toEqual([{ column: 1, isSure: false }]);
    expect(edgesOf(row('h10', 'h6m4', 'h6m4'))).toEqual([]);
    expect(edgesOf(row('h10', '', 'm10'))).toEqual([]);
    expect(edgesOf(row('h10', 'e10', 'm10'))).toEqual([]);
  });

  test('is told in the words of its row', () => {
    expect(rowText(row('h10', 'm10', 'h10'), TABLE.delays)).toBe('mostly right at 0, 40 ms');
    expect(rowText(row('h10', 'h10', 'm10'), TABLE.delays)).toBe('mostly right at 0 to 20 ms');
    expect(rowText(row('h10', 'h10', 'h10'), TABLE.delays)).toBe('always mostly right');
    expect(rowText(row('h10', '', 'm10'), TABLE.delays)).toBe('mostly right at 0 ms so far');
    expect(rowText(row('m10', 'h5m5', 'm10'), TABLE.delays)).toBe('never mostly right');
    expect(rowText(row('', '', ''), TABLE.delays)).toBe('');
  });
});
