import { drawOn } from './draw-on.ts';
import { lanesCsv, lanesVcd, rulerSvg } from './exports.ts';
import { FILE_MARGIN } from './pen.ts';
import type { SavedKind } from './ruler-controls.ts';
import type { RulerLayout } from './ruler-layout.ts';
import type { RulerView } from './ruler-view.ts';

/** Dots of a PNG for a CSS pixel. */
const PNG_SCALE = 2;

/** The ruler as a file: pictures as it is seen, texts with the whole shot. */
export async function rulerFile(kind: SavedKind, layout: RulerLayout, view: RulerView): Promise<Blob | undefined> {
  switch (kind) {
    case 'SVG':
      return new Blob([rulerSvg(layout, view)], { type: 'image/svg+xml' });
    case 'CSV':
      return new Blob([lanesCsv(view.lanes, view.marks)], { type: 'text/csv' });
    case 'VCD':
      return new Blob([lanesVcd(view.lanes)], { type: 'text/plain' });
    case 'PNG': {
      const canvas = document.createElement('canvas');
      drawOn(canvas, layout, view, PNG_SCALE, FILE_MARGIN);
      return await new Promise((done) => canvas.toBlob((blob) => done(blob ?? undefined)));
    }
  }
}

/** Let the browser save a file. */
export function saveFile(file: Blob, name: string): void {
  const url = URL.createObjectURL(file);
  const link = Object.assign(document.createElement('a'), { href: url, download: name });
  link.click();
  // The browser takes the file when the click is over.
  setTimeout(() => URL.revokeObjectURL(url));
}
