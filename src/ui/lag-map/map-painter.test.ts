import { beforeEach, describe, expect, test } from 'vitest';
import { AS_SCENARIO, type AxisEntries, cellPlace } from '../../sweep/cells.ts';
import { ratesOf } from '../../sweep/report/rates.ts';
import { SvgPen } from '../ruler/svg-pen.ts';
import type { MapView } from './map-drawing.ts';
import { mapLayout } from './map-layout.ts';
import { MapPainter } from './map-painter.ts';
import { mapTable } from './map-table.ts';

const ENTRIES: AxisEntries = {
  strategy: ['first', 'second', 'third'],
  hand: [AS_SCENARIO],
  delayMs: [0, 10],
  panel: [AS_SCENARIO],
  sensor: [AS_SCENARIO],
  room: [AS_SCENARIO],
  aim: ['shot 1'],
};
const TABLE = mapTable(ENTRIES);
const LAYOUT = mapLayout(TABLE, 800);
const VIEW: MapView = {
  table: TABLE,
  rates: new Map(),
  inProgress: new Map(),
  colours: { sheet: '#1', ink: '#2', secondary: '#3', border: '#4', aim: '#5', light: '#6', wrong: '#7' },
  looked: undefined,
};
const EVERYTHING = { top: 0, bottom: 10_000 };
const known = (cell: number) =>
  ratesOf({
    cell,
    ...cellPlace(ENTRIES, cell),
    n: 1,
    x: 0,
    y: 0,
    outcomes: 'h',
    saidTwice: 0,
    decision: null,
    lightAfterLook: null,
    firstWrong: null,
    warnings: [],
    fingerprint: '',
    refused: null,
  });

let painter = new MapPainter();
beforeEach(() => {
  painter = new MapPainter();
});

/** Rows whose labels are drawn. */
function drawn(view: MapView, scrollX = 0, sight = EVERYTHING, hasTime = () => true): string[] {
  const pen = new SvgPen();
  painter.paint(pen, LAYOUT, view, scrollX, sight, '1', hasTime);
  const svg = pen.file(1, 1, '');
  return ENTRIES.strategy.filter((name) => svg.includes(`>${name}<`));
}

describe('rows are drawn', () => {
  test('once, and not again as long as nothing changes', () => {
    expect(drawn(VIEW)).toEqual(['first', 'second', 'third']);
    expect(drawn({ ...VIEW, rates: new Map() })).toEqual([]);
  });

  test('that have a cell more, more shots, or are looked at', () => {
    drawn(VIEW);
    const rates = new Map([[2, known(2)]]);
    expect(drawn({ ...VIEW, rates })).toEqual(['second']);
    expect(drawn({ ...VIEW, rates, inProgress: new Map([[4, 0.5]]) })).toEqual(['third']);
    expect(drawn({ ...VIEW, rates, looked: { row: 0, column: 1 } })).toEqual(['first', 'third']);
    expect(drawn({ ...VIEW, rates, looked: { row: 1, column: 1 } })).toEqual(['first', 'second']);
  });

  test('all, when the map is scrolled, has other colours or is another', () => {
    drawn(VIEW);
    expect(drawn(VIEW, 10).length).toBe(3);
    expect(drawn({ ...VIEW, colours: { ...VIEW.colours, ink: '#8' } }, 10).length).toBe(3);
    expect(drawn({ ...VIEW, table: mapTable(ENTRIES) }, 10).length).toBe(3);
  });

  test('first where they are in sight', () => {
    const never = () => false;
    expect(drawn(VIEW, 0, { top: 170, bottom: 175 }, never)).toEqual(['third']);
    expect(drawn(VIEW, 0, { top: 170, bottom: 175 })).toEqual(['first', 'second']);
  });

  test('one at least, where there is no time, and the others later', () => {
    const never = () => false;
    expect(drawn(VIEW, 0, EVERYTHING, never)).toEqual(['first']);
    expect(drawn(VIEW, 0, EVERYTHING, never)).toEqual(['second']);
    expect(drawn(VIEW)).toEqual(['third']);
  });
});
