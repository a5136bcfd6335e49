import { describe, expect, test } from 'vitest';
import { AS_SCENARIO, type AxisEntries, cellPlace } from '../../sweep/cells.ts';
import { ratesOf } from '../../sweep/report/rates.ts';
import { cellColours } from './colour-scale.ts';
import type { MapView } from './map-drawing.ts';
import { mapSvg } from './map-files.ts';
import { cellAt, cellX, cellY, mapLayout } from './map-layout.ts';
import { mapTable } from './map-table.ts';

const ENTRIES: AxisEntries = {
  strategy: ['<same> & "frame"'],
  hand: [AS_SCENARIO],
  delayMs: Array.from({ length: 12 }, (_, i) => i * 10),
  panel: ['tube', 'LCD'],
  sensor: [AS_SCENARIO],
  room: [AS_SCENARIO],
  aim: ['left'],
};
const TABLE = mapTable(ENTRIES);

/** Cells of the first row: all right up to the fifth delay, then all wrong; the second row is not known. */
const RATES = new Map(
  TABLE.rows[0]!.cells.flat().map((cell, column) => [
    cell,
    ratesOf({
      cell,
      ...cellPlace(ENTRIES, cell),
      n: 20,
      x: 0,
      y: 0,
      outcomes: column < 5 ? 'h20' : 'm20',
      saidTwice: 0,
      decision: null,
      lightAfterLook: null,
      firstWrong: null,
      warnings: [],
      fingerprint: '',
      refused: null,
    }),
  ]),
);
const VIEW: MapView = {
  table: TABLE,
  rates: RATES,
  inProgress: new Map(),
  colours: {
    sheet: '#010101',
    ink: '#020202',
    secondary: '#030303',
    border: '#040404',
    aim: '#050505',
    light: '#060606',
    wrong: '#070707',
  },
  looked: undefined,
};
const HEADING = { title: 'Lag & lamp', note: '20 shots' };

describe('the map as SVG', () => {
  const svg = mapSvg(mapLayout(TABLE, 800), VIEW, HEADING);
  const count = (part: string): number => svg.split(part).length - 1;

  test('has title, legend, and every cell in the colour of its rate with rate and interval', () => {
    expect(svg).toContain('Lag &amp; lamp');
    expect(svg).toContain('dotted: sampled shots');
    expect(count(`fill="${cellColours(1).cell}"`)).toBe(5);
    expect(count(`fill="${cellColours(0).cell}"`)).toBe(7);
    expect(count('>100 %<')).toBe(5 + 1); // and the end of the scale
    expect(count('>84–100<')).toBe(5);
    expect(count('>0–16<')).toBe(7);
  });

  test('has one edge, and no name of a strategy as markup', () => {
    expect(count('stroke="#020202" stroke-width="3"')).toBe(1 + 2); // and two in the legend
    expect(svg).toContain('&lt;same&gt; &amp; &quot;frame&quot;');
    expect(svg).not.toContain('<same>');
  });

  test('has nothing in it that a strict content security policy refuses', () => {
    expect(svg).not.toMatch(/\sstyle=|<style|<script|\son\w+=/);
  });

  test('is as wide as the whole map even where only a part of it is seen', () => {
    const narrow = mapSvg(mapLayout(TABLE, 300), VIEW, HEADING);
    expect(narrow.split(`fill="${cellColours(1).cell}"`).length - 1).toBe(5);
    expect(Number(/width="(\d+)"/.exec(narrow)![1])).toBeGreaterThan(12 * 54);
  });
});

test.each([240, 320, 700, 1200])(
  'every cell of a map %i px wide is found at its own place, and only there',
  (width) => {
    const layout = mapLayout(TABLE, width);
    for (let row = 0; row < 2; row++)
      for (let column = 0; column < 12; column++) {
        const [x, y] = [cellX(layout, column), cellY(layout, row)];
        expect(cellAt(layout, TABLE, x + 1, y + 1)).toEqual({ row, column });
        expect(cellAt(layout, TABLE, x + layout.cellWidth - 1, y + layout.cellHeight - 1)).toEqual({ row, column });
        expect(cellAt(layout, TABLE, x + 1, y - 2)).toBeUndefined();
      }
    expect(cellAt(layout, TABLE, cellX(layout, 12) + 1, cellY(layout, 0) + 1)).toBeUndefined();
    expect(cellAt(layout, TABLE, cellX(layout, 0) + 1, layout.height + 5)).toBeUndefined();
  },
);
