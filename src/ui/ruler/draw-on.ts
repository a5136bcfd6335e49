import { CanvasPen } from './canvas-pen.ts';
import { drawRuler } from './ruler-drawing.ts';
import type { RulerLayout } from './ruler-layout.ts';
import type { RulerView } from './ruler-view.ts';

/** Draw the ruler on a canvas with so many dots a CSS pixel, and a margin in CSS pixels. */
export function drawOn(
  canvas: HTMLCanvasElement,
  layout: RulerLayout,
  view: RulerView,
  scale: number,
  margin = 0,
): void {
  const [width, height] = [layout.width, layout.height].map((size) => Math.round((size + 2 * margin) * scale));
  if (canvas.width !== width) canvas.width = width!;
  if (canvas.height !== height) canvas.height = height!;
  canvas.style.height = `${layout.height + 2 * margin}px`;
  const context = canvas.getContext('2d')!;
  context.setTransform(scale, 0, 0, scale, margin * scale, margin * scale);
  const pen = new CanvasPen(context);
  const sheet = { x: -margin, y: -margin, width: layout.width + 2 * margin, height: layout.height + 2 * margin };
  if (margin > 0) pen.fill(sheet, view.colours.sheet);
  drawRuler(pen, layout, view);
}
