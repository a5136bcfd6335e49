import type { MapTable } from './map-table.ts';

/** Places on the map, CSS pixels. */
export interface MapLayout {
  /** Of what is seen, and of the whole map. */
  readonly width: number;
  readonly fullWidth: number;
  readonly height: number;
  /** Labels stand beside their row, or above it where there is little room. */
  readonly isBeside: boolean;
  readonly labelWidth: number;
  readonly labelHeight: number;
  readonly headHeight: number;
  readonly cellWidth: number;
  readonly cellHeight: number;
  readonly rowStep: number;
}

/** Narrower, labels go above. Our choice. */
const ROOM_FOR_LABELS = 560;
const LABEL_WIDTH = 212;
const LABEL_HEIGHT = 36;
const HEAD_HEIGHT = 40;
const CELL = { least: 54, most: 150, height: 50 } as const;
const ROW_GAP = 10;

export function mapLayout({ delays, rows }: MapTable, width: number): MapLayout {
  const isBeside = width >= ROOM_FOR_LABELS;
  const labelWidth = isBeside ? LABEL_WIDTH : 0;
  const labelHeight = isBeside ? 0 : LABEL_HEIGHT;
  const fit = Math.floor((width - labelWidth - 2) / delays.length);
  const cellWidth = Math.min(CELL.most, Math.max(CELL.least, fit));
  const rowStep = labelHeight + CELL.height + ROW_GAP;
  return {
    width,
    fullWidth: Math.max(width, labelWidth + cellWidth * delays.length + 2),
    height: HEAD_HEIGHT + rowStep * rows.length,
    isBeside,
    labelWidth,
    labelHeight,
    headHeight: HEAD_HEIGHT,
    cellWidth,
    cellHeight: CELL.height,
    rowStep,
  };
}

export const cellX = ({ labelWidth, cellWidth }: MapLayout, column: number): number =>
  labelWidth + column * cellWidth + 1;
export const rowY = ({ headHeight, rowStep }: MapLayout, row: number): number => headHeight + row * rowStep;
export const cellY = (layout: MapLayout, row: number): number => rowY(layout, row) + layout.labelHeight;

/** What belongs to a row, up to half the way to the next: rows can be drawn one by one. */
export const rowBand = (layout: MapLayout, row: number): { readonly y: number; readonly height: number } => ({
  y: rowY(layout, row) - ROW_GAP / 2,
  height: layout.rowStep,
});

/** The cell at a place of the whole map. */
export function cellAt(
  layout: MapLayout,
  { rows, delays }: MapTable,
  x: number,
  y: number,
): { readonly row: number; readonly column: number } | undefined {
  const row = Math.floor((y - layout.headHeight) / layout.rowStep);
  const column = Math.floor((x - layout.labelWidth - 1) / layout.cellWidth);
  if (row < 0 || row >= rows.length || column < 0 || column >= delays.length) return undefined;
  const inside = y - cellY(layout, row);
  return inside < 0 || inside >= layout.cellHeight ? undefined : { row, column };
}
