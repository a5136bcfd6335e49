import type { FlashStream } from './flash-check.api.ts';
import type { PresentedPicture } from './flash-check.recorder.ts';

/** Counts what the page presents, beside it. */
export interface PageRecordService {
  present(picture: PresentedPicture): void;
  /** A picture is no longer on the page from this time on, ms. */
  remove(surface: string, timeMs: number): void;
  /** What was found so far. */
  report(): FlashStream;
}
