import { PageFlashRecorder } from '../workers/flash-check.recorder.ts';

/** What this page has presented since it was opened, held against published limits. */
export const PAGE_RECORDER = new PageFlashRecorder();

/** An element presents a picture now, at the size that it has on the page: 256 x 240 dots, RGBA. */
export function recordPicture(place: HTMLElement, rgba: Uint8ClampedArray): void {
  const { left, top, width, height } = place.getBoundingClientRect();
  if (width === 0 || height === 0) return;
  const box = { x: Math.round(left + scrollX), y: Math.round(top + scrollY), width, height };
  PAGE_RECORDER.present({ surface: place.id, box, timeMs: performance.now(), rgba });
}
