import type { BenchState } from '../bench/bench-state.ts';
import { type KeptBench, keptBenchText, readKeptBench } from '../bench/kept-bench.ts';
import type { KeptNotes } from './kept-notes.ts';
import type { KeptTexts } from './kept-texts.ts';

const BENCH = 'latelight.bench';
/** The bench is written down so long after it has changed. Our choice. */
const WRITE_DELAY_MS = 300;

/** Keeps what is chosen on the bench, what can be taken back, and what is typed at its stations. */
export class BenchKeeper {
  readonly #texts: KeptTexts;
  readonly #notes: KeptNotes;
  #bench: (() => KeptBench) | undefined;
  #written = '';
  #timer: ReturnType<typeof setTimeout> | undefined;
  /** What nobody can read could not be put aside: nothing may take its place. */
  #isHeld = false;

  constructor(texts: KeptTexts, notes: KeptNotes) {
    this.#texts = texts;
    this.#notes = notes;
  }

  /** What was kept; undefined: nothing. What cannot be read is put aside. */
  read(standing: BenchState, strategies: readonly string[]): KeptBench | undefined {
    const text = this.#texts.get(BENCH);
    if (text === undefined) return undefined;
    const answer = readKeptBench(text, standing, strategies);
    if ('kept' in answer) return answer.kept;
    const name = this.#texts.putAside(BENCH);
    this.#isHeld = name === undefined;
    this.#notes.tell({ what: 'of the bench', faults: answer.faults, name: name ?? BENCH, text });
    return undefined;
  }

  /** Keep the bench as it is in a moment. */
  keepSoon(bench: () => KeptBench): void {
    this.#bench = bench;
    this.#timer ??= setTimeout(this.write, WRITE_DELAY_MS);
  }

  /** Keep it now. */
  write = (): void => {
    clearTimeout(this.#timer);
    this.#timer = undefined;
    if (this.#bench === undefined || this.#isHeld) return;
    const text = keptBenchText(this.#bench());
    if (text !== this.#written) this.#texts.put(BENCH, text);
    this.#written = text;
  };
}
