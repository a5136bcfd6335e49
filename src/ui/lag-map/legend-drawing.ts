import type { Pen } from '../ruler/pen.ts';
import { cellColours, hex, rateRgb } from './colour-scale.ts';
import type { MapColours } from './map-drawing.ts';

/** From here on the marks stand beside the scale, else under it. */
const ROOM_FOR_ROW = 600;
const SCALE = { width: 220, height: 46, steps: 44 } as const;
/** Height of a line of marks. */
const LINE = 20;
/** Width of a column of marks beside the scale. */
const COLUMN = 200;
const MARKS = ['dotted', 'interval', 'edge', 'unsure'] as const;
type Mark = (typeof MARKS)[number];
const TEXTS: Readonly<Record<Mark, string>> = {
  dotted: 'dotted: sampled shots',
  interval: 'bar and small figures: 95 % interval',
  edge: 'line: the rate crosses 50 %',
  unsure: 'dashed: so, but intervals overlap',
};

export const legendHeight = (width: number): number =>
  width >= ROOM_FOR_ROW ? SCALE.height + 4 : SCALE.height + 12 + MARKS.length * LINE;

/** What the colours, dots, bars and lines of the map mean. */
export function drawLegend(pen: Pen, width: number, colours: MapColours): void {
  const scale = Math.min(SCALE.width, width - 20);
  drawScale(pen, scale, colours);
  const isRow = width >= ROOM_FOR_ROW;
  for (const [i, mark] of MARKS.entries()) {
    if (isRow) drawMark(pen, scale + 32 + (i % 2) * COLUMN, 2 + Math.floor(i / 2) * (LINE + 2), mark, colours);
    else drawMark(pen, 0, SCALE.height + 12 + i * LINE, mark, colours);
  }
}

function drawScale(pen: Pen, width: number, colours: MapColours): void {
  pen.text(0, 12, 'right shots, at targets and at nothing', { colour: colours.secondary });
  for (let i = 0; i < SCALE.steps; i++) {
    const place = { x: (i * width) / SCALE.steps, y: 18, width: width / SCALE.steps + 0.5, height: 12 };
    pen.fill(place, hex(rateRgb((i + 0.5) / SCALE.steps)));
  }
  pen.outline({ x: 0.5, y: 18.5, width, height: 11 }, { colour: colours.border });
  for (const [share, anchor] of [
    [0, 'start'],
    [0.5, 'middle'],
    [1, 'end'],
  ] as const)
    pen.text(share * width, 43, `${share * 100} %`, { colour: colours.secondary, anchor });
}

function drawMark(pen: Pen, x: number, y: number, mark: Mark, colours: MapColours): void {
  const [ink, paint] = [colours.ink, cellColours(0.6)];
  switch (mark) {
    case 'dotted':
      pen.fill({ x, y: y + 2, width: 24, height: 13 }, paint.cell);
      for (const down of [6, 12])
        pen.line([x + 3, y + down, x + 24, y + down], { colour: paint.dots, width: 1.5, dash: [1.5, 4.5] });
      break;
    case 'interval':
      pen.line([x + 2, y + 9, x + 22, y + 9], { colour: ink, width: 2 });
      pen.line([x + 12, y + 5, x + 12, y + 13], { colour: ink, width: 2 });
      break;
    case 'edge':
    case 'unsure':
      pen.line([x + 12, y + 1, x + 12, y + 16], { colour: ink, width: 3, dash: mark === 'edge' ? [] : [4, 3] });
  }
  pen.text(x + 32, y + 13, TEXTS[mark], { colour: colours.secondary });
}
