import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { CellRun } from '../../src/sweep/cell-run.ts';
import { openPlan, prepareCell, type Sweep } from '../../src/sweep/plan.ts';
import { type Figure, median } from './figure.ts';

const SCENARIO = resolve('homebrew-demo/first-light/tube.json');
const PANELS = { tube: { kind: 'beam-tube' }, LCD: { kind: 'lcd' } };
const FRAME_MS = 16.639;
/** Until the last of the hot functions is compiled for good: 2,400 shots and more, in several trials. */
const WARM_UP_RUNS = 10;
const RUNS = 5;
const SHOTS = 300;

/** First Light, triggered 12 frames after power-on; 18 frames later is the deadline: 30 frames, about 24 scanlines drawn. */
const shortShots = (frames: number): Sweep => {
  const scenario = JSON.parse(readFileSync(SCENARIO, 'utf8'));
  const folder = resolve('homebrew-demo/first-light');
  Object.assign(scenario, {
    image: join(folder, scenario.image),
    labels: join(folder, scenario.labels),
    deadlineFrames: frames - 12,
    shots: [{ aim: { x: 128, y: 112 }, atMs: 12 * FRAME_MS }],
  });
  const plan = JSON.stringify({ sweep: 1, title: 'bench', scenario, n: 1_000_000, delays: [20], panels: PANELS });
  return openPlan('plan', {
    text: (path) => (path === 'plan' ? plan : readFileSync(path, 'utf8')),
    bytes: (path) => new Uint8Array(readFileSync(path)),
  });
};

/** Shots a second of one core, each run from power-on; the slower of tube and LCD. */
export const shotsPerSecond = (): Figure => figure('shots_per_second', slowestRate(shortShots(30)), 'shots/s', 500);

/** Console time a second of one core, each shot of 60 frames run from power-on; the slower of tube and LCD. */
export const sweepRealtime = (): Figure =>
  figure('sweep_realtime_1core', (slowestRate(shortShots(60)) * 60 * FRAME_MS) / 1000, 'x', 250);

function slowestRate(sweep: Sweep): number {
  return Math.min(...Array.from({ length: sweep.cellCount }, (_, cell) => shotRate(sweep, cell)));
}

/** Shots a second of processor time: median of several runs, after some in which the code is compiled. */
function shotRate(sweep: Sweep, cell: number): number {
  const run = new CellRun(prepareCell(sweep, cell), { sharesStart: false });
  const rates: number[] = [];
  for (let i = -WARM_UP_RUNS; i < RUNS; i++) {
    const start = process.cpuUsage();
    for (let shot = 0; shot < SHOTS; shot++) run.step();
    const { user, system } = process.cpuUsage(start);
    if (i >= 0) rates.push((SHOTS * 1e6) / (user + system));
  }
  return median(rates);
}

const figure = (name: string, value: number, unit: string, goal: number): Figure => ({
  name,
  value,
  unit,
  bound: 'min',
  goal,
});

const CLI = 'dist/cli/cli.js';
/** 160 cells of half a second each on one core: compiling takes each worker about two seconds, which a minute makes up for. */
const JOBS_PLAN = {
  sweep: 1,
  title: 'bench',
  scenario: SCENARIO,
  n: 1200,
  delays: Array.from({ length: 40 }, (_, i) => 2.5 * i),
  panels: PANELS,
  aims: { lamp: { x: 128, y: 112 }, sky: { x: 20, y: 20 } },
};

/** How much sooner two workers are done than one, starting them included. */
export function sweepScaling(): Figure {
  return inFolder((plan) => {
    const time = (jobs: string): number => {
      const start = performance.now();
      checkEnd(spawnSync('node', [CLI, 'sweep', plan, '--quiet', '--jobs', jobs]).status);
      return performance.now() - start;
    };
    const ratios = Array.from({ length: 3 }, () => time('1') / time('2'));
    return figure('sweep_scaling_2cores', median(ratios), 'x', 1.8);
  });
}

/** Largest resident size of the whole command with two workers, MB. */
export async function sweepMemory(): Promise<Figure> {
  return inFolder(async (plan) => {
    const child = spawn('node', [CLI, 'sweep', plan, '--quiet', '--jobs', '2'], { stdio: 'ignore' });
    let largest = 0;
    const timer = setInterval(() => {
      largest = Math.max(largest, peakMb(child.pid!));
    }, 50);
    checkEnd(await new Promise<number | null>((done) => child.once('exit', done)));
    clearInterval(timer);
    if (largest === 0) throw new Error('the system says nothing of the memory of a process');
    return { name: 'sweep_memory_mb', value: largest, unit: 'MB', bound: 'max', goal: 400 };
  });
}

function checkEnd(status: number | null): void {
  if (status !== 0) throw new Error(`the sweep of the bench ended with ${status}`);
}

/** What Linux says of the largest resident size of a process so far, MB; 0 where it says nothing. */
function peakMb(pid: number): number {
  try {
    return Number(/VmHWM:\s+(\d+) kB/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1] ?? 0) / 1024;
  } catch {
    return 0;
  }
}

function inFolder<Result>(use: (plan: string) => Result): Result {
  const folder = mkdtempSync(join(tmpdir(), 'latelight-bench-'));
  const plan = join(folder, 'plan.json');
  writeFileSync(plan, JSON.stringify(JOBS_PLAN));
  const clear = (): void => rmSync(folder, { recursive: true, force: true });
  try {
    const result = use(plan);
    if (result instanceof Promise) result.finally(clear);
    else clear();
    return result;
  } catch (error) {
    clear();
    throw error;
  }
}
