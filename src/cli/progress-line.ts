import { Progress } from '../sweep/progress.ts';

/** A terminal sees a line that changes; a file or a pipe gets a line of its own less often. */
const EVERY_MS = { terminal: 200, file: 5000 } as const;

/** How far a sweep is and how long it will take, on the error stream. */
export class ProgressLine {
  readonly #progress: Progress;
  readonly #cells: number;
  readonly #n: number;
  readonly #start = performance.now();
  #cellsDone: number;
  #told = Number.NEGATIVE_INFINITY;

  /** `resumed`: cells that are done already. */
  constructor(cells: number, n: number, resumed: number) {
    this.#progress = new Progress(cells * n, resumed * n);
    this.#cells = cells;
    this.#n = n;
    this.#cellsDone = resumed;
  }

  cellAt(cell: number, shots: number): void {
    this.#progress.cellAt(cell, shots);
    this.#tell();
  }

  cellDone(cell: number): void {
    this.#cellsDone++;
    this.#progress.cellDone(cell, this.#n);
    this.#tell();
  }

  end(): void {
    if (process.stderr.isTTY) process.stderr.write('\r\u001b[K');
  }

  #tell(): void {
    const now = performance.now();
    const isTerminal = process.stderr.isTTY === true;
    if (now - this.#told < (isTerminal ? EVERY_MS.terminal : EVERY_MS.file)) return;
    this.#told = now;
    const left = this.#progress.leftMs(now - this.#start);
    const text = `${this.#cellsDone} of ${this.#cells} cells, ${(this.#progress.share * 100).toFixed(1)} %${left === undefined ? '' : `, ${duration(left)} left`}`;
    process.stderr.write(isTerminal ? `\r\u001b[K${text}` : `${text}\n`);
  }
}

/** 1 h 5 min, 12 min, 40 s. */
function duration(ms: number): string {
  const seconds = Math.ceil(ms / 1000);
  if (seconds < 90) return `${seconds} s`;
  const minutes = Math.round(seconds / 60);
  return minutes < 90 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
}
