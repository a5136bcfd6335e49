/** Frames that are made up for at most after a delay of the page; what is more is left out. Our choice. */
const MOST_FRAMES = 4;

/** Says how many console frames are due when the page draws, so that play runs at the console's own speed. */
export class PlayClock {
  readonly #framesPerSecond: number;
  #lastMs: number | undefined;
  #due = 0;

  constructor(framesPerSecond: number) {
    this.#framesPerSecond = framesPerSecond;
  }

  /** Whole frames due at a time of the page, ms; 0 at the first question. */
  framesDue(nowMs: number): number {
    const passedMs = nowMs - (this.#lastMs ?? nowMs);
    this.#lastMs = nowMs;
    this.#due = Math.min(MOST_FRAMES, this.#due + (passedMs * this.#framesPerSecond) / 1000);
    const frames = Math.floor(this.#due);
    this.#due -= frames;
    return frames;
  }
}
