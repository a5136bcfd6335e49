import { type Remote, transfer, wrap } from 'comlink';
import type { FlashStream } from '../workers/flash-check.api.ts';
import type { PageRecordService } from '../workers/page-record.api.ts';
import { startWorker } from '../workers/worker-tasks.ts';

/** As many pictures may wait to be counted; what comes while they do is left out, and that is said. Our choice: a second of two. */
const MOST_WAITING = 120;

/** What this page has presented since it was opened, held against published limits by a worker, so that it holds up nothing. */
class PageRecord {
  #service: Remote<PageRecordService> | undefined;
  #waiting = 0;
  #leftOut = 0;
  #lost: string | undefined;

  /** An element presents a picture now, at the size that it has on the page: 256 x 240 dots, RGBA. */
  present(place: HTMLElement, rgba: Uint8ClampedArray): void {
    const { left, top, width, height } = place.getBoundingClientRect();
    if (width === 0 || height === 0) return;
    if (this.#waiting >= MOST_WAITING) {
      this.#leftOut++;
      return;
    }
    const box = { x: Math.round(left + scrollX), y: Math.round(top + scrollY), width, height };
    const copy = rgba.slice();
    const picture = { surface: place.id, box, timeMs: frameMs(), rgba: copy, ground: groundColour() };
    this.#waiting++;
    this.#running()
      .present(transfer(picture, [copy.buffer]))
      .then(
        () => this.#waiting--,
        () => this.#leftOut++,
      );
  }

  /** A picture is no longer on the page. */
  remove(surface: string): void {
    void this.#service?.remove(surface, frameMs());
  }

  /** What was found so far. Rejects where it cannot be counted. */
  async report(): Promise<FlashStream> {
    const service = this.#running();
    if (this.#lost !== undefined) throw new Error(this.#lost);
    const stream = await service.report();
    if (this.#leftOut === 0) return stream;
    const leftOut = `${this.#leftOut} more came faster than they could be counted and are not in it`;
    return { ...stream, watched: `${stream.watched}; ${leftOut}` };
  }

  #running(): Remote<PageRecordService> {
    if (this.#service !== undefined) return this.#service;
    const worker = startWorker('page record');
    worker.addEventListener('error', ({ message }) => {
      this.#lost = message;
    });
    this.#service = wrap<PageRecordService>(worker);
    return this.#service;
  }
}

/** Time of the page's frame: whatever is painted in one task is seen at once. */
const frameMs = (): number => Number(document.timeline.currentTime ?? performance.now());

/** Colour that the page's body is painted in. */
function groundColour(): readonly [number, number, number] {
  const [red = 0, green = 0, blue = 0] = (getComputedStyle(document.body).backgroundColor.match(/\d+/g) ?? []).map(
    Number,
  );
  return [red, green, blue];
}

export const PAGE_RECORD = new PageRecord();
