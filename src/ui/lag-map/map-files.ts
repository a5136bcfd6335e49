import type { CellResult } from '../../sweep/cell-run.ts';
import type { Sweep } from '../../sweep/plan.ts';
import { sweepCsv } from '../../sweep/report/csv-report.ts';
import { sweepJson } from '../../sweep/report/json-report.ts';
import { type SweepSummary, summarize } from '../../sweep/summary.ts';
import { CanvasPen } from '../ruler/canvas-pen.ts';
import type { Pen } from '../ruler/pen.ts';
import { SvgPen } from '../ruler/svg-pen.ts';
import { drawLegend, legendHeight } from './legend-drawing.ts';
import { drawMap, type MapView } from './map-drawing.ts';
import type { MapLayout } from './map-layout.ts';
import { MovedPen } from './moved-pen.ts';

export const FILE_KINDS = ['PNG', 'SVG', 'CSV', 'JSON'] as const;
export type FileKind = (typeof FILE_KINDS)[number];

/** What stands above the map in a picture file. */
interface MapHeading {
  readonly title: string;
  readonly note: string;
}

const MARGIN = 16;
const HEADING = 44;
const PNG_SCALE = 2;

/** A picture with heading, the whole map as it is laid out, and legend. */
interface Sheet {
  readonly width: number;
  readonly height: number;
  draw(pen: Pen): void;
}

function sheetOf(layout: MapLayout, view: MapView, { title, note }: MapHeading): Sheet {
  const whole = { ...layout, width: layout.fullWidth };
  const width = whole.width + 2 * MARGIN;
  const height = MARGIN + HEADING + whole.height + legendHeight(whole.width) + MARGIN;
  return {
    width,
    height,
    draw: (pen) => {
      pen.fill({ x: 0, y: 0, width, height }, view.colours.sheet);
      pen.text(MARGIN, MARGIN + 12, title, { colour: view.colours.ink, isStrong: true });
      pen.text(MARGIN, MARGIN + 30, note, { colour: view.colours.secondary });
      drawMap(new MovedPen(pen, MARGIN, MARGIN + HEADING), whole, { ...view, looked: undefined });
      const top = MARGIN + HEADING + whole.height;
      drawLegend(new MovedPen(pen, MARGIN, top), whole.width, view.colours);
    },
  };
}

/** The map as the text of an SVG file. */
export function mapSvg(layout: MapLayout, view: MapView, heading: MapHeading): string {
  const sheet = sheetOf(layout, view, heading);
  const pen = new SvgPen();
  sheet.draw(pen);
  return pen.file(sheet.width, sheet.height, `${heading.title}. ${heading.note}`);
}

/** What is known of a sweep as a file, the pictures as the map is laid out; undefined where the browser cannot make one. */
export async function mapFile(
  kind: FileKind,
  sweep: Sweep,
  results: readonly CellResult[],
  layout: MapLayout,
  view: MapView,
): Promise<Blob | undefined> {
  switch (kind) {
    case 'PNG':
      return await mapPng(layout, view, headingOf(sweep, results));
    case 'SVG':
      return new Blob([mapSvg(layout, view, headingOf(sweep, results))], { type: 'image/svg+xml' });
    case 'CSV':
      return new Blob([sweepCsv(knownSummary(sweep, results))], { type: 'text/csv' });
    case 'JSON':
      return new Blob([sweepJson(knownSummary(sweep, results))], { type: 'application/json' });
  }
}

function headingOf({ document, entries, cellCount }: Sweep, results: readonly CellResult[]): MapHeading {
  const known = results.length < cellCount ? `, ${results.length} of ${cellCount} cells of the plan known` : '';
  const shots = document.n * entries.aim.length;
  return {
    title: document.title,
    note: `right shots, ${shots} a cell, 95 % intervals (Wilson), seed ${document.seed}${known}`,
  };
}

async function mapPng(layout: MapLayout, view: MapView, heading: MapHeading): Promise<Blob | undefined> {
  const sheet = sheetOf(layout, view, heading);
  const canvas = document.createElement('canvas');
  canvas.width = Math.round(sheet.width * PNG_SCALE);
  canvas.height = Math.round(sheet.height * PNG_SCALE);
  const context = canvas.getContext('2d');
  if (context === null) return undefined;
  context.scale(PNG_SCALE, PNG_SCALE);
  sheet.draw(new CanvasPen(context));
  return await new Promise((done) => canvas.toBlob((blob) => done(blob ?? undefined)));
}

/** Cells that are not known have not been judged: no limit is shown by what is left out. */
function knownSummary(sweep: Sweep, results: readonly CellResult[]): SweepSummary {
  const summary = summarize(sweep, results);
  return results.length === sweep.cellCount ? summary : { ...summary, limits: [], isPassed: false };
}
