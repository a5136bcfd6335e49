import type { Pen } from '../ruler/pen.ts';
import { drawHead, drawRow, type MapView } from './map-drawing.ts';
import { type MapLayout, rowBand } from './map-layout.ts';

/** The part of the map that is in sight, CSS pixels. */
export interface Sight {
  readonly top: number;
  readonly bottom: number;
}

/** Keeps a map drawn: draws only what has changed, what is in sight first. */
export class MapPainter {
  #table: MapView['table'] | undefined;
  #frame = '';
  /** What every row was last drawn with; a row that is not there has to be drawn. */
  readonly #rows = new Map<number, string>();

  /**
   * Draw rows until `hasTime` says no more, one at least; true when all of them are drawn.
   * `frame`: what else the whole drawing hangs on, such as the dots of a pixel.
   */
  paint(
    pen: Pen,
    layout: MapLayout,
    view: MapView,
    scrollX: number,
    sight: Sight,
    frame: string,
    hasTime: () => boolean = () => true,
  ): boolean {
    const now = JSON.stringify([layout, view.colours, scrollX, frame]);
    if (now !== this.#frame || view.table !== this.#table) {
      this.#rows.clear();
      pen.fill({ x: 0, y: 0, width: layout.width, height: layout.height }, view.colours.sheet);
      drawHead(pen, layout, view, scrollX);
    }
    this.#frame = now;
    this.#table = view.table;
    for (const row of rowsInSightFirst(layout, view.table.rows.length, sight)) {
      const state = rowState(view, row);
      if (this.#rows.get(row) === state) continue;
      this.#rows.set(row, state);
      drawRow(pen, layout, view, row, scrollX);
      if (!hasTime()) return false;
    }
    return true;
  }
}

function rowsInSightFirst(layout: MapLayout, count: number, { top, bottom }: Sight): number[] {
  const isSeen = (row: number): boolean => {
    const { y, height } = rowBand(layout, row);
    return y <= bottom && y + height >= top;
  };
  const rows = Array.from({ length: count }, (_, row) => row);
  return [...rows.filter(isSeen), ...rows.filter((row) => !isSeen(row))];
}

/** A text that changes whenever a row looks otherwise: what is known of a cell never changes. */
function rowState({ table, rates, inProgress, looked }: MapView, row: number): string {
  let known = '';
  let progress = '';
  for (const cell of table.rows[row]!.cells.flat()) {
    known += rates.has(cell) ? '1' : '0';
    const share = inProgress.get(cell);
    if (share !== undefined) progress += ` ${share}`;
  }
  return `${known}${progress} ${looked?.row === row ? looked.column : ''}`;
}
