import type { ReactiveController, ReactiveControllerHost } from 'lit';
import { readJournal } from '../../sweep/journal.ts';
import type { KeptForm, KeptRun } from './kept-map.ts';
import type { MapRun } from './map-run.ts';
import { openOnPage } from './opened-plan.ts';
import type { PlanDesk } from './plan-desk.ts';
import { problemOf } from './problem.ts';

/** Where the form and the shots of a lag map stay when the page is closed. */
export interface MapStore {
  readForm(): KeptForm | undefined;
  keepForm(form: KeptForm): void;
  readRun(): Promise<KeptRun | undefined>;
  /** The run could be read, and is no use: why not. */
  refuseRun(run: KeptRun, why: string): Promise<void>;
  keepRun(run: KeptRun): Promise<void>;
}

/** Shots are written down so often while they come in. Our choice. */
const WRITE_EVERY_MS = 3000;

/** Takes what was kept of the lag map once its programs are there, and keeps what comes after. */
export class MapMemory implements ReactiveController {
  readonly #desk: PlanDesk;
  readonly #run: MapRun;
  /** Nothing is written before that which was kept has been read. */
  #store: MapStore | undefined;
  #written = 0;
  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor(host: ReactiveControllerHost, desk: PlanDesk, run: MapRun) {
    this.#desk = desk;
    this.#run = run;
    host.addController(this);
  }

  /** Read it; for a desk that has its programs. */
  async restore(store: MapStore): Promise<void> {
    const form = store.readForm();
    if (form !== undefined) this.#desk.restore(form);
    const run = await store.readRun();
    if (run !== undefined) await this.#restoreRun(store, run);
    this.#store = store;
  }

  hostConnected(): void {
    window.addEventListener('pagehide', this.#write);
    document.addEventListener('visibilitychange', this.#write);
  }

  hostUpdated(): void {
    const { kept } = this.#desk;
    if (kept !== undefined) this.#store?.keepForm(kept);
    if (this.#run.state === 'running') this.#timer ??= setTimeout(this.#write, WRITE_EVERY_MS);
    else this.#write();
  }

  hostDisconnected(): void {
    this.#write();
    window.removeEventListener('pagehide', this.#write);
    document.removeEventListener('visibilitychange', this.#write);
  }

  /** Write down what is known, if it is more than was. */
  #write = (): void => {
    clearTimeout(this.#timer);
    this.#timer = undefined;
    const { changes, kept } = this.#run;
    if (this.#store === undefined || kept === undefined || changes === this.#written) return;
    this.#written = changes;
    void this.#store.keepRun(kept);
  };

  async #restoreRun(store: MapStore, run: KeptRun): Promise<void> {
    try {
      const plan = openOnPage(run.plan, this.#desk.programs);
      const results = readJournal(
        run.journal.map((line) => `${line}\n`).join(''),
        plan.sweep,
        'the shots that were kept',
      );
      this.#run.restore(plan, results);
      this.#written = this.#run.changes;
    } catch (error) {
      await store.refuseRun(run, problemOf(error).refused);
    }
  }
}
