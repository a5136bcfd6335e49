import { closeSync, existsSync, openSync, readFileSync, renameSync, writeFileSync, writeSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { resolve } from 'node:path';
import { LatelightError } from '../errors/latelight-error.ts';
import { CellPool } from '../sweep/cell-pool.ts';
import { type CellResult, drawnScenario } from '../sweep/cell-run.ts';
import { EdgeWatch } from '../sweep/edges.ts';
import { journalHead, journalLine, readJournal, sortedJournal } from '../sweep/journal.ts';
import { openPlan, type Sweep } from '../sweep/plan.ts';
import { type CollectedFiles, collectingFiles } from '../sweep/plan-files.ts';
import { sweepCsv } from '../sweep/report/csv-report.ts';
import { sweepJson } from '../sweep/report/json-report.ts';
import { sweepJunit } from '../sweep/report/junit-report.ts';
import { sweepText } from '../sweep/report/text-report.ts';
import { summarize } from '../sweep/summary.ts';
import { checkNotRead, readFile, writeFile } from './files.ts';
import { ProgressLine } from './progress-line.ts';
import { ThreadRunner } from './sweep-runner.ts';

/** Options of the command, as they are written. */
export interface SweepOptions {
  readonly jobs?: string | undefined;
  readonly out?: string | undefined;
  readonly resume?: boolean | undefined;
  readonly json?: boolean | undefined;
  readonly csv?: string | undefined;
  readonly junit?: string | undefined;
  readonly quiet?: boolean | undefined;
  readonly 'scenario-of'?: string | undefined;
}

/** What came of it: every limit shown; refused because of something else; a limit failed; stopped by the user. */
export type SweepEnd = 'passed' | 'failed' | 'stopped';

const MOST_JOBS = 64;

/** `latelight sweep PLAN`. Errors: USAGE, PLAN_*, JOURNAL_*, WORKER_LOST, FILE_UNREADABLE, FILE_UNWRITABLE. */
export async function sweep(paths: readonly string[], options: SweepOptions): Promise<SweepEnd> {
  const [path] = paths;
  if (path === undefined || paths.length > 1)
    throw new LatelightError('USAGE', { found: `${paths.length} plans were given`, expected: 'one: sweep PLAN' });
  if (options.resume === true && options.out === undefined)
    throw new LatelightError('USAGE', {
      found: '--resume without --out',
      expected: '--out FILE --resume, the file of the run that is to go on',
    });
  const jobs = jobsOf(options.jobs);
  const files: CollectedFiles = {};
  const disk = {
    text: (name: string) => readFile(name).toString('utf8'),
    bytes: (name: string) => new Uint8Array(readFile(name)),
  };
  const plan = openPlan(path, collectingFiles(disk, files));
  if (options['scenario-of'] !== undefined) return printScenario(plan, options['scenario-of']);
  for (const written of [options.csv, options.junit]) checkNotRead(written);
  const journal = options.out === undefined ? undefined : new JournalFile(options.out, plan, options.resume === true);
  const results = await runAll(plan, { path, files, jobs, journal, isQuiet: options.quiet === true });
  if (results.length < plan.cellCount) {
    console.error(stoppedText(results.length, plan.cellCount, options.out));
    return 'stopped';
  }
  journal?.finish(results);
  const summary = summarize(plan, results);
  if (options.csv !== undefined) writeFile(options.csv, sweepCsv(summary));
  if (options.junit !== undefined) writeFile(options.junit, sweepJunit(summary));
  console.log(options.json === true ? sweepJson(summary).trimEnd() : sweepText(summary));
  return summary.isPassed ? 'passed' : 'failed';
}

interface RunSetup {
  readonly path: string;
  readonly files: CollectedFiles;
  readonly jobs: number;
  readonly journal: JournalFile | undefined;
  readonly isQuiet: boolean;
}

/** Run the cells that the journal does not hold; fewer results than cells if the user stopped it. Error: PLAN_EDGES, WORKER_LOST. */
async function runAll(plan: Sweep, { path, files, jobs, journal, isQuiet }: RunSetup): Promise<CellResult[]> {
  const results = [...(journal?.kept ?? [])];
  const edges = new EdgeWatch(plan);
  for (const result of results) edges.add(result);
  const done = new Set(results.map(({ cell }) => cell));
  const cells = Array.from({ length: plan.cellCount }, (_, cell) => cell).filter((cell) => !done.has(cell));
  const progress = isQuiet ? undefined : new ProgressLine(plan.cellCount, plan.document.n, results.length);
  const pool = new CellPool({
    cells,
    jobs,
    startRunner: () => new ThreadRunner({ path, files }),
    onShots: (cell, shots) => progress?.cellAt(cell, shots),
    onResult: (result) => {
      journal?.append(result);
      results.push(result);
      progress?.cellDone(result.cell);
      edges.add(result);
    },
  });
  const stop = (): void => pool.stop();
  process.once('SIGINT', stop).once('SIGTERM', stop);
  try {
    await pool.run();
  } finally {
    process.off('SIGINT', stop).off('SIGTERM', stop);
    progress?.end();
    journal?.close();
  }
  return results;
}

/** The file that cells are written to as they finish. */
class JournalFile {
  /** Cells of an earlier run. */
  readonly kept: readonly CellResult[];
  readonly #path: string;
  readonly #sweep: Sweep;
  readonly #file: number;

  constructor(path: string, plan: Sweep, isResumed: boolean) {
    this.#path = path;
    this.#sweep = plan;
    if (existsSync(path) && !isResumed) throw new LatelightError('JOURNAL_EXISTS', { path });
    this.kept = existsSync(path) ? readJournal(readFileSync(path, 'utf8'), plan, path) : [];
    // Written anew, so that a line that was cut off does not stay in it.
    this.#replace([journalHead(plan), ...this.kept.map(journalLine)].map((line) => `${line}\n`).join(''));
    this.#file = openSync(path, 'a');
  }

  append(result: CellResult): void {
    writeSync(this.#file, `${journalLine(result)}\n`);
  }

  close(): void {
    closeSync(this.#file);
  }

  /** All cells in their order: the same bytes whatever order they finished in. */
  finish(results: readonly CellResult[]): void {
    this.#replace(sortedJournal(this.#sweep, results));
  }

  /** At no instant is there a file that is half written. */
  #replace(text: string): void {
    const beside = `${this.#path}.new`;
    try {
      writeFileSync(beside, text);
      renameSync(beside, this.#path);
    } catch (error) {
      throw new LatelightError('FILE_UNWRITABLE', { path: this.#path, found: (error as Error).message });
    }
  }
}

function jobsOf(asked: string | undefined): number {
  if (asked === undefined) return availableParallelism();
  const jobs = Number(asked);
  if (Number.isInteger(jobs) && jobs >= 1 && jobs <= MOST_JOBS) return jobs;
  throw new LatelightError('USAGE', { found: `--jobs ${asked}`, expected: `a whole number from 1 to ${MOST_JOBS}` });
}

/** One shot of the sweep as a scenario of its own, for `shoot`. */
function printScenario(plan: Sweep, asked: string): SweepEnd {
  const [cell, shot] = asked.split(':').map(Number);
  const isThere = Number.isInteger(cell) && cell! >= 0 && cell! < plan.cellCount;
  if (!isThere || !Number.isInteger(shot) || shot! < 1 || shot! > plan.document.n) {
    throw new LatelightError('USAGE', {
      found: `--scenario-of ${asked}`,
      expected: `CELL:SHOT, a cell from 0 to ${plan.cellCount - 1} and a shot from 1 to ${plan.document.n}`,
    });
  }
  const { image, labels, ...scenario } = drawnScenario(plan, cell!, shot! - 1);
  const files = { image: resolve(image), ...(labels === undefined ? {} : { labels: resolve(labels) }) };
  console.log(JSON.stringify({ ...scenario, ...files }, null, 2));
  return 'passed';
}

function stoppedText(done: number, cells: number, out: string | undefined): string {
  const kept = out === undefined ? 'give --out FILE next time to keep them' : `they are in ${out}, go on with --resume`;
  return `stopped after ${done} of ${cells} cells; ${kept}`;
}
