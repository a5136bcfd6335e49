import { openScenario } from '../../src/cli/files.ts';
import { FastConsole } from '../../src/console/fast/fast-console.ts';
import { PictureHistory } from '../../src/picture/picture.ts';
import type { PreparedScenario } from '../../src/shot/prepared-scenario.ts';
import { Shot, type ShotOptions } from '../../src/shot/shot.ts';
import { TIMINGS, ticksPerFrame, ticksToMs } from '../../src/units/timing.ts';
import { type Figure, median } from './figure.ts';
import { LightRuns } from './light-share.ts';

const RUNS = 7;
/** Runs before those that count. */
const WARM_UP = 2;
/** A share is a difference of times that are alike: it takes more of them, and what runs once a shot must be compiled too. */
const SHARE_RUNS = 61;
const SHARE_WARM_UP = 40;
const FOLDER = 'homebrew-demo/first-light';
/** Simulated frames of a run. */
const FRAMES = 90;
const CONSOLE_MS = ticksToMs(TIMINGS['60hz'], FRAMES * ticksPerFrame(TIMINGS['60hz']));

/** Simulated time per processor time of whole shots from power-on on the reference engine, the slower of tube and LCD. */
export function referenceRealtime(): Figure {
  return figure('reference_realtime', 4, slowerOf({ engine: 'reference' }));
}

/** The same on the fast engine: whole picture, light path, judging. */
export function loopRealtime(): Figure {
  return figure('loop_realtime', 38, slowerOf({}));
}

/** The same with only the scanlines of the aim drawn: a spot of 6 dots sees 24. */
export function aimLinesRealtime(): Figure {
  return figure('aim_lines_realtime', 150, slowerOf({ draws: 'aim' }));
}

/** The fast console alone: whole picture, nobody looks at the light. */
export function consoleRealtime(): Figure {
  const { image } = open('tube.json');
  return figure(
    'console_realtime',
    40,
    medianRatio(() => runConsole(image)),
  );
}

/**
 * The share of a whole-picture run that the light path takes, the larger of tube and LCD: 1 - processor time of the run with
 * its light replayed / processor time of the very same run with the light path; see `LightRuns`. Median of pairs.
 */
export function lightShare(): Figure {
  const shares = ['tube.json', 'late-lcd.json'].map((file) => {
    const prepared = open(file);
    const runs = new LightRuns(prepared, FRAMES * ticksPerFrame(prepared.timing));
    const pair = (): readonly [number, number] => {
      const { withLight, replayed } = runs.times(processorMs);
      return [withLight, replayed];
    };
    const pairs = paired(pair, SHARE_RUNS, SHARE_WARM_UP);
    return median(pairs.map(([withLight, replayed]) => 1 - replayed / withLight));
  });
  return { name: 'light_share', value: Math.max(0, ...shares), unit: '', bound: 'max', goal: 0.05 };
}

/** Time to copy the whole state of a shot in flight, pictures included. */
export function stateCopy(): Figure {
  const { timing, ...rest } = open('late-lcd.json');
  const shot = new Shot({ timing, ...rest }, 0);
  shot.runUntil(shot.triggerTick + 3 * ticksPerFrame(timing));
  const times: number[] = [];
  for (let run = -5; run < 101; run++) {
    const start = performance.now();
    shot.save();
    const us = (performance.now() - start) * 1000;
    if (run >= 0) times.push(us);
  }
  return { name: 'state_copy_us', value: median(times), unit: 'us', bound: 'max', goal: 1000 };
}

const figure = (name: string, goal: number, value: number): Figure => ({ name, value, unit: 'x', bound: 'min', goal });

const open = (file: string): PreparedScenario => {
  const { scenario, ...rest } = openScenario(`${FOLDER}/${file}`);
  return { ...rest, scenario: { ...scenario, deadlineFrames: FRAMES } };
};

const slowerOf = (options: ShotOptions): number =>
  Math.min(
    ...['tube.json', 'late-lcd.json'].map((file) => {
      const prepared = open(file);
      const simulatedMs = shotMs(prepared);
      return median(repeated(() => runWhole(prepared, options)).map((ms) => simulatedMs / ms));
    }),
  );

/** Simulated time of a shot from power-on to its deadline. */
const shotMs = (prepared: PreparedScenario): number => ticksToMs(prepared.timing, new Shot(prepared, 0).deadlineTick);

const runWhole = (prepared: PreparedScenario, options: ShotOptions): number =>
  processorMs(() => new Shot(prepared, 0, options).finish());

function runConsole(image: PreparedScenario['image']): number {
  const timing = TIMINGS['60hz'];
  const console = new FastConsole({
    timing,
    image,
    devices: ['pad', 'light sensor'],
    surroundings: { readLight: () => 0, isTriggerClosed: () => false, buttons: () => 0 },
    history: new PictureHistory(5),
    trace: { put: () => {} },
    request: { fetches: [], writes: [], reads: [] },
    alignment: { cpuPhaseTicks: 0, putParity: 0 },
    hooks: { targetsForNextPicture: () => [] },
  });
  return processorMs(() => {
    for (let frame = 1; frame <= FRAMES; frame++) {
      console.runUntil(frame * ticksPerFrame(timing));
    }
  });
}

const medianRatio = (run: () => number): number => median(repeated(run).map((ms) => CONSOLE_MS / ms));

/** Processor time of this process, ms: neighbours on the machine do not count. */
function processorMs(work: () => void): number {
  const start = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(start);
  return (user + system) / 1000;
}

const repeated = (run: () => number): number[] => paired(() => [run(), 0]).map(([ms]) => ms);

/** Several runs after some that warm up. */
function paired(run: () => readonly [number, number], runs = RUNS, warmUp = WARM_UP): (readonly [number, number])[] {
  const results: (readonly [number, number])[] = [];
  for (let count = -warmUp; count < runs; count++) {
    const result = run();
    if (count >= 0) results.push(result);
  }
  return results;
}
