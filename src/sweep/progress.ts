/** Shots before which no time left is told: workers are still starting. Our choice. */
const FEWEST_SHOTS = 20;

/** How far a sweep has come, counted in shots. Who has a clock passes the time in. */
export class Progress {
  readonly #total: number;
  readonly #resumed: number;
  /** Shots of cells in progress. */
  readonly #inProgress = new Map<number, number>();
  #finished: number;

  /** `resumed`: shots of the cells that a journal already holds. */
  constructor(total: number, resumed: number) {
    this.#total = total;
    this.#resumed = resumed;
    this.#finished = resumed;
  }

  cellAt(cell: number, done: number): void {
    this.#inProgress.set(cell, done);
  }

  cellDone(cell: number, shots: number): void {
    this.#inProgress.delete(cell);
    this.#finished += shots;
  }

  get done(): number {
    let sum = this.#finished;
    for (const shots of this.#inProgress.values()) sum += shots;
    return sum;
  }

  get share(): number {
    return this.#total === 0 ? 1 : this.done / this.#total;
  }

  /** Time left at the mean speed so far, ms; undefined as long as only a few shots are done. */
  leftMs(elapsedMs: number): number | undefined {
    const run = this.done - this.#resumed;
    return run < FEWEST_SHOTS ? undefined : (elapsedMs * (this.#total - this.done)) / run;
  }
}
