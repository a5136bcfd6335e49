import type { ReactiveController, ReactiveControllerHost } from 'lit';
import { CellPool } from '../../sweep/cell-pool.ts';
import type { CellResult } from '../../sweep/cell-run.ts';
import { EdgeWatch } from '../../sweep/edges.ts';
import { journalHead, journalLine } from '../../sweep/journal.ts';
import type { Sweep } from '../../sweep/plan.ts';
import { Progress } from '../../sweep/progress.ts';
import { type CellRates, ratesOf } from '../../sweep/report/rates.ts';
import { PageRunner } from '../../workers/page-runner.ts';
import type { Refusal } from '../../workers/refusal.ts';
import { costMs } from './estimate.ts';
import type { KeptRun } from './kept-map.ts';
import { type OpenedPlan, PLAN_PATH } from './opened-plan.ts';
import { problemOf } from './problem.ts';

/** `kept`: known from before the page was closed, and not all of it. */
export type RunState = 'empty' | 'running' | 'cancelled' | 'failed' | 'finished' | 'kept';

/** How far a run has come. */
export interface RunProgress {
  readonly cells: number;
  readonly ofCells: number;
  readonly shots: number;
  readonly ofShots: number;
  /** Undefined as long as too little is done to tell. */
  readonly leftMs: number | undefined;
}

/** Shortest time between two updates of the page. Our choice. */
const UPDATE_EVERY_MS = 250;
const MOST_WORKERS = 2;

/** Workers that leave the page a core of its own, if there are two. */
const workersOf = (cores: number): number => Math.max(1, Math.min(MOST_WORKERS, cores - 1));

/** Runs a plan in workers and keeps what is known; a run of the same plan goes on from there. */
export class MapRun implements ReactiveController {
  readonly #host: ReactiveControllerHost;
  readonly jobs = workersOf(navigator.hardwareConcurrency);
  state: RunState = 'empty';
  problem: Refusal | undefined;
  plan: OpenedPlan | undefined;
  /** By cell. */
  readonly results = new Map<number, CellResult>();
  /** Replaced with every cell, so that who draws it sees that it has changed. */
  rates: ReadonlyMap<number, CellRates> = new Map();
  /** Share of the shots of cells in progress, replaced likewise. */
  inProgress: ReadonlyMap<number, number> = new Map();
  /** How many times as long as reckoned this page takes. */
  speed: number | undefined;
  /** Counts what becomes known or is forgotten. */
  changes = 0;
  /** A line for every cell that is known, in the order in which they came. */
  #journal: string[] = [];
  #pool: CellPool | undefined;
  #progress: Progress | undefined;
  /** When the first shots of this run were told; workers take a while to start, and that is no pace. */
  #firstMs: number | undefined;
  /** What the cells of this run should have taken. */
  #reckonedMs = 0;
  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor(host: ReactiveControllerHost) {
    this.#host = host;
    host.addController(this);
  }

  hostDisconnected(): void {
    this.cancel();
    clearTimeout(this.#timer);
    this.#timer = undefined;
  }

  /** Whether the results are of this plan. */
  isOf(sweep: Sweep | undefined): boolean {
    return sweep !== undefined && this.plan?.sweep.fingerprint === sweep.fingerprint;
  }

  /** Cells of this plan that are still to be run. */
  missing({ fingerprint, cellCount }: Sweep): number[] {
    const isKnown = this.plan?.sweep.fingerprint === fingerprint;
    return Array.from({ length: cellCount }, (_, cell) => cell).filter((cell) => !isKnown || !this.results.has(cell));
  }

  /** Take what was known when the page was closed. */
  restore(plan: OpenedPlan, results: readonly CellResult[]): void {
    if (this.state === 'running') return;
    this.#forget();
    this.plan = plan;
    for (const result of results) {
      this.results.set(result.cell, result);
      this.#journal.push(journalLine(result));
    }
    this.rates = new Map(results.map((result) => [result.cell, ratesOf(result)]));
    this.state = this.results.size === plan.sweep.cellCount ? 'finished' : 'kept';
    this.problem = undefined;
    this.#host.requestUpdate();
  }

  /** Ends when every cell is known, the run is cancelled or it fails; never rejects. */
  async start(plan: OpenedPlan): Promise<void> {
    if (this.state === 'running') return;
    const cells = this.missing(plan.sweep);
    if (!this.isOf(plan.sweep)) this.#forget();
    this.plan = plan;
    const watch = new EdgeWatch(plan.sweep);
    const pool = this.#poolOf(plan, cells, watch);
    this.#pool = pool;
    this.#begin(plan.sweep);
    try {
      for (const result of this.results.values()) watch.add(result);
      // Workers take a while to make: the page first says that it runs.
      await new Promise((resolve) => setTimeout(resolve));
      if (this.#pool === pool) await pool.run();
      if (this.#pool === pool) this.#end('finished');
    } catch (error) {
      if (this.#pool === pool) this.#end('failed', problemOf(error));
    }
  }

  /** Ends the workers at once; what is known stays. */
  cancel(): void {
    const pool = this.#pool;
    if (pool === undefined) return;
    this.#end('cancelled');
    pool.stop();
  }

  /** What is known, in the form in which it is kept; undefined where nothing is. */
  get kept(): KeptRun | undefined {
    if (this.plan === undefined || this.results.size === 0) return undefined;
    const { sweep, files } = this.plan;
    return { plan: files[PLAN_PATH] as string, journal: [journalHead(sweep), ...this.#journal] };
  }

  get progress(): RunProgress | undefined {
    if (this.plan === undefined) return undefined;
    const { cellCount, document } = this.plan.sweep;
    return {
      cells: this.results.size,
      ofCells: cellCount,
      shots: this.#progress?.done ?? this.results.size * document.n,
      ofShots: cellCount * document.n,
      leftMs: this.state === 'running' ? this.#progress?.leftMs(this.#elapsedMs) : undefined,
    };
  }

  get #elapsedMs(): number {
    return this.#firstMs === undefined ? 0 : performance.now() - this.#firstMs;
  }

  #forget(): void {
    this.results.clear();
    this.#journal = [];
    this.changes++;
    this.rates = new Map();
  }

  #begin({ cellCount, document }: Sweep): void {
    this.state = 'running';
    this.problem = undefined;
    this.inProgress = new Map();
    this.#reckonedMs = 0;
    this.#progress = new Progress(cellCount * document.n, this.results.size * document.n);
    this.#firstMs = undefined;
    this.#host.requestUpdate();
  }

  #end(state: RunState, problem?: Refusal): void {
    this.state = state;
    this.problem = problem;
    this.#pool = undefined;
    this.#progress = undefined;
    this.inProgress = new Map();
    this.#host.requestUpdate();
  }

  #poolOf({ sweep, files }: OpenedPlan, cells: readonly number[], watch: EdgeWatch): CellPool {
    const { n } = sweep.document;
    let pool: CellPool | undefined;
    // What a pool says after it was cancelled is nobody's.
    const isCurrent = (): boolean => this.#pool === pool;
    pool = new CellPool({
      cells,
      jobs: this.jobs,
      startRunner: () => new PageRunner(PLAN_PATH, files),
      onShots: (cell, done) => {
        if (!isCurrent()) return;
        this.#firstMs ??= performance.now();
        this.#progress?.cellAt(cell, done);
        this.inProgress = new Map(this.inProgress).set(cell, done / n);
        this.#updateSoon();
      },
      onResult: (result) => {
        if (!isCurrent()) return;
        this.#take(sweep, result);
        watch.add(result);
      },
    });
    return pool;
  }

  #take(sweep: Sweep, result: CellResult): void {
    this.results.set(result.cell, result);
    this.#journal.push(journalLine(result));
    this.changes++;
    this.rates = new Map(this.rates).set(result.cell, ratesOf(result));
    const inProgress = new Map(this.inProgress);
    inProgress.delete(result.cell);
    this.inProgress = inProgress;
    this.#progress?.cellDone(result.cell, sweep.document.n);
    this.#reckonedMs += costMs(sweep, [result.cell]);
    if (this.#elapsedMs > 0) this.speed = (this.#elapsedMs * this.jobs) / this.#reckonedMs;
    this.#updateSoon();
  }

  #updateSoon(): void {
    this.#timer ??= setTimeout(() => {
      this.#timer = undefined;
      this.#host.requestUpdate();
    }, UPDATE_EVERY_MS);
  }
}
