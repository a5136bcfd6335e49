import { type Pen, type Place, textWidth } from '../ruler/pen.ts';
import { type CellColours, cellColours } from './colour-scale.ts';
import { cellX, cellY, type MapLayout, rowBand, rowY } from './map-layout.ts';
import { edgesOf, type KnownRates, type MapCell, type MapTable, mapCell, rowText } from './map-table.ts';

export interface MapColours {
  readonly sheet: string;
  readonly ink: string;
  readonly secondary: string;
  readonly border: string;
  readonly aim: string;
  readonly light: string;
  readonly wrong: string;
}

/** What is drawn of a sweep. */
export interface MapView {
  readonly table: MapTable;
  readonly rates: KnownRates;
  /** Shares of plan cells in progress. */
  readonly inProgress: ReadonlyMap<number, number>;
  readonly colours: MapColours;
  /** The cell that is looked at. */
  readonly looked: { readonly row: number; readonly column: number } | undefined;
}

const DOT_STEP = 7;
const DOT = 1.5;
const SEAM = 1;

/** Draw all of the map; `scrollX` = how far its left side is out of sight. Labels stay in sight. */
export function drawMap(pen: Pen, layout: MapLayout, view: MapView, scrollX = 0): void {
  drawHead(pen, layout, view, scrollX);
  for (let row = 0; row < view.table.rows.length; row++) drawRow(pen, layout, view, row, scrollX);
}

/** Draw the line of delays, over whatever is there. */
export function drawHead(pen: Pen, layout: MapLayout, view: MapView, scrollX: number): void {
  const { colours } = view;
  pen.fill({ x: 0, y: 0, width: layout.width, height: rowBand(layout, 0).y }, colours.sheet);
  if (layout.isBeside) pen.text(0, layout.headHeight - 9, 'delay of the picture, ms', { colour: colours.secondary });
  else pen.text(1, 14, 'delay, ms', { colour: colours.secondary });
  pen.within(besideLabels(layout), () => drawDelays(pen, layout, view, scrollX));
}

/** Draw a row with its label, over whatever is there. */
export function drawRow(pen: Pen, layout: MapLayout, view: MapView, row: number, scrollX: number): void {
  const { y, height } = rowBand(layout, row);
  pen.fill({ x: 0, y, width: layout.width, height }, view.colours.sheet);
  const cells = view.table.rows[row]!.cells.map((plan) => mapCell(plan, view.rates));
  pen.within(besideLabels(layout), () => {
    drawCells(pen, layout, view, row, cells, scrollX);
    if (view.looked?.row === row) drawLooked(pen, layout, view, scrollX);
  });
  drawLabel(pen, layout, view, row, rowText(cells, view.table.delays));
}

const besideLabels = ({ labelWidth, width, height }: MapLayout): Place => ({
  x: labelWidth,
  y: 0,
  width: width - labelWidth,
  height,
});

/** Columns that can be seen. */
function seen({ labelWidth, cellWidth, width }: MapLayout, { delays }: MapTable, scrollX: number): number[] {
  const first = Math.max(0, Math.floor(scrollX / cellWidth));
  const last = Math.min(delays.length - 1, Math.floor((scrollX + width - labelWidth) / cellWidth));
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => first + i);
}

function drawDelays(pen: Pen, layout: MapLayout, { table, colours }: MapView, scrollX: number): void {
  for (const column of seen(layout, table, scrollX)) {
    const x = cellX(layout, column) - scrollX + layout.cellWidth / 2;
    const delay = table.delays[column]!;
    pen.text(x, layout.headHeight - 9, delay === null ? 'as it is' : String(delay), {
      colour: colours.ink,
      anchor: 'middle',
    });
  }
}

function drawCells(
  pen: Pen,
  layout: MapLayout,
  view: MapView,
  row: number,
  cells: readonly MapCell[],
  scrollX: number,
): void {
  const columns = seen(layout, view.table, scrollX);
  drawUnknown(pen, layout, view, row, cells, columns, scrollX);
  for (const column of columns) {
    const place = {
      x: cellX(layout, column) - scrollX,
      y: cellY(layout, row),
      width: layout.cellWidth - SEAM,
      height: layout.cellHeight,
    };
    const plan = view.table.rows[row]!.cells[column]!;
    drawCell(pen, place, cells[column]!, view, Math.max(0, ...plan.map((cell) => view.inProgress.get(cell) ?? 0)));
  }
  for (const { column, isSure } of edgesOf(cells)) {
    if (!columns.includes(column) && !columns.includes(column + 1)) continue;
    const x = cellX(layout, column + 1) - scrollX - SEAM / 2;
    const line = [x, cellY(layout, row) - 4, x, cellY(layout, row) + layout.cellHeight + 4];
    pen.line(line, { colour: view.colours.sheet, width: 7 });
    pen.line(line, { colour: view.colours.ink, width: 3, dash: isSure ? [] : [6, 4] });
  }
}

/** One hatch for all cells in sight that have no rate; the others are drawn over it. */
function drawUnknown(
  pen: Pen,
  layout: MapLayout,
  { colours }: MapView,
  row: number,
  cells: readonly MapCell[],
  columns: readonly number[],
  scrollX: number,
): void {
  const unknown = columns.filter((column) => cells[column]!.right?.rate == null);
  if (unknown.length === 0) return;
  const [first, last] = [unknown[0]!, unknown.at(-1)!];
  const x = cellX(layout, first) - scrollX;
  const width = (last - first + 1) * layout.cellWidth - SEAM;
  pen.hatch({ x, y: cellY(layout, row), width, height: layout.cellHeight }, { colour: colours.border });
}

function drawCell(pen: Pen, place: Place, cell: MapCell, { colours }: MapView, progress: number): void {
  const middle = place.x + place.width / 2;
  const { right } = cell;
  if (right?.rate != null) {
    const paint = cellColours(right.rate);
    pen.fill(place, paint.cell);
    drawDots(pen, place, paint);
    pen.text(middle, place.y + 19, `${Math.round(right.rate * 100)} %`, {
      colour: paint.text,
      anchor: 'middle',
      isStrong: true,
    });
    const { low, high } = right.interval;
    pen.text(middle, place.y + 34, `${Math.round(low * 100)}–${Math.round(high * 100)}`, {
      colour: paint.text,
      anchor: 'middle',
    });
    drawInterval(pen, place, right.interval, right.rate, paint.text);
    pen.outline(inset(place, 0.5), { colour: colours.border });
    return;
  }
  pen.outline(inset(place, 0.5), { colour: colours.border });
  const words = cell.refused !== undefined ? 'refused' : right !== undefined ? 'none' : undefined;
  if (words !== undefined) {
    pen.fill(
      { ...place, x: middle - textWidth(words) / 2 - 2, width: textWidth(words) + 4, y: place.y + 16, height: 18 },
      colours.sheet,
    );
    pen.text(middle, place.y + 29, words, {
      colour: cell.refused === undefined ? colours.secondary : colours.wrong,
      anchor: 'middle',
    });
    return;
  }
  const share = (cell.known.length + progress) / cell.of;
  if (share > 0)
    pen.fill(
      { ...place, y: place.y + place.height - 4, height: 4, width: place.width * Math.min(1, share) },
      colours.light,
    );
}

const inset = ({ x, y, width, height }: Place, by: number): Place => ({
  x: x + by,
  y: y + by,
  width: width - 2 * by,
  height: height - 2 * by,
});

/** Sampled, not proved. The middle stays clear for the numbers. */
function drawDots(pen: Pen, { x, y, width, height }: Place, { dots }: CellColours): void {
  const style = { colour: dots, width: DOT, dash: [DOT, DOT_STEP - DOT] };
  for (let down = 4; down < height - 1; down += DOT_STEP) pen.line([x + 4, y + down, x + width - 2, y + down], style);
}

/** From 0 to 100 % across the cell, with a tick at the rate. */
function drawInterval(
  pen: Pen,
  { x, y, width, height }: Place,
  { low, high }: { readonly low: number; readonly high: number },
  rate: number,
  colour: string,
): void {
  const at = (share: number): number => x + 5 + share * (width - 10);
  const line = y + height - 8;
  pen.line([at(low), line, Math.max(at(high), at(low) + 1), line], { colour, width: 2 });
  pen.line([at(rate), line - 4, at(rate), line + 4], { colour, width: 2 });
}

function drawLooked(pen: Pen, layout: MapLayout, { looked, colours }: MapView, scrollX: number): void {
  const { row, column } = looked!;
  const place = {
    x: cellX(layout, column) - scrollX - SEAM,
    y: cellY(layout, row),
    width: layout.cellWidth + SEAM,
    height: layout.cellHeight,
  };
  pen.outline(inset(place, -1), { colour: colours.sheet, width: 5 });
  pen.outline(inset(place, -1), { colour: colours.aim, width: 3 });
}

function drawLabel(pen: Pen, layout: MapLayout, { table, colours }: MapView, row: number, words: string): void {
  const { title, subtitle } = table.rows[row]!;
  if (layout.isBeside) {
    const y = cellY(layout, row);
    const room = layout.labelWidth - 12;
    pen.text(0, y + 13, fitted(title, room), { colour: colours.ink, isStrong: true });
    pen.text(0, y + 29, fitted(subtitle, room), { colour: colours.ink });
    pen.text(0, y + 45, fitted(words, room), { colour: colours.secondary });
    return;
  }
  const y = rowY(layout, row);
  const line = [subtitle, words].filter((text) => text !== '').join(' · ');
  pen.text(1, y + 12, fitted(title, layout.width), { colour: colours.ink, isStrong: true });
  pen.text(1, y + 27, fitted(line, layout.width), { colour: colours.secondary });
}

function fitted(text: string, room: number): string {
  if (textWidth(text) <= room) return text;
  let cut = text;
  while (cut.length > 1 && textWidth(`${cut}…`) > room) cut = cut.slice(0, -1);
  return `${cut.trimEnd()}…`;
}
