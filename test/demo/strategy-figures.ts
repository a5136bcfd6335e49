import { runShot } from '../../src/shot/shot.ts';
import { assembledProgram, type Strategy } from '../lamplighter.ts';
import { type FrameStrategy, tryWindow, WINDOW_PATHS } from '../theorem/other-strategies.ts';
import { builtFiles, LAMPS, MARK, prepareStreet } from '../theorem/practice-street.ts';
import { costsOverDelays } from './strategy-costs.ts';

/** What the page tells of a strategy, measured at 60 Hz: `homebrew-demo/lamplighter/strategies/figures.json`. */
export interface StrategyFigures {
  readonly strategy: Strategy;
  /** `show` with its sprite DMA, `decide` while undecided and when it decides: fewest and most cycles, or one number. */
  readonly handlerCycles: readonly number[];
  readonly undecidedCycles: readonly number[];
  readonly verdictCycles: readonly number[];
  /** Of the strategy's own source files, and of the ring of places that it needs. */
  readonly romBytes: number;
  readonly ramBytes: number;
  readonly ringBytes: number;
  /** Pictures later than a box is sent that the program looks for it; null where the program has no such number. */
  readonly delayFrames: number | null;
  /** LCDs on which all three lamps of the practice street are hit, ms late. */
  readonly hitsFromMs: number;
  readonly hitsToMs: number;
  /** Pictures of a shot that are not the scene. */
  readonly pictures: number;
  /** Whole frames from the trigger to the verdict with no target aimed at, on LCDs of these delays. */
  readonly answers: readonly { readonly delayMs: number; readonly frames: number; readonly isFalseHit: boolean }[];
}

const LCD = WINDOW_PATHS.find(({ name }) => name === 'LCD')!;

export function strategyFigures(strategy: Strategy): StrategyFigures {
  const costs = costsOverDelays(strategy, '60hz');
  const { symbols } = assembledProgram(strategy, (_, text) => text);
  const [ringX, ringY] = ['ringX', 'ringY'].map((name) => symbols.get(name) ?? 0);
  const [hitsFromMs, hitsToMs] = strategy === 'calibrated' ? calibratedReach() : frameWindow(strategy);
  return {
    strategy,
    handlerCycles: costs.showCycles,
    undecidedCycles: costs.decideCycles,
    verdictCycles: costs.verdictCycles,
    romBytes: only(costs.romBytes),
    ramBytes: only(costs.ramBytes),
    ringBytes: strategy === 'calibrated' ? 2 * (ringY! - ringX!) : 0,
    delayFrames: symbols.get('DELAY_FRAMES') ?? null,
    hitsFromMs,
    hitsToMs,
    pictures: only(costs.pictures),
    answers: costs.delaysMs.map((delayMs, i) => ({
      delayMs,
      frames: Math.floor(costs.framesToDecide[i]!),
      isFalseHit: costs.verdict[i] !== 0,
    })),
  };
}

function only(values: readonly number[]): number {
  if (values.length !== 1) throw new Error(`one value for all delays is expected, there are ${values.join(', ')}`);
  return values[0]!;
}

/** Shots this far within an edge of a window are played, nearer ones are not: tenths are rounded inwards from there. */
const PLAYED_WITHIN_MS = 0.1;

/** Delays at which every lamp is hit: the last window of each, their common part. */
function frameWindow(strategy: FrameStrategy): [fromMs: number, toMs: number] {
  const windows = LAMPS.map((_, lamp) => {
    const { hitsMs, different } = tryWindow(strategy, LCD, lamp, 120);
    if (different.length > 0) throw new Error(different.join('; '));
    return hitsMs[hitsMs.length - 1]!;
  });
  const from = Math.max(...windows.map(([first]) => first));
  const to = Math.min(...windows.map(([, last]) => last));
  return [
    from === 0 ? 0 : Math.ceil((from + PLAYED_WITHIN_MS) * 10) / 10,
    Math.floor((to - PLAYED_WITHIN_MS) * 10) / 10,
  ];
}

const STEP_MS = 50;
const MOST_MS = 1000;

/** Every lamp is hit on LCDs later and later, until one is not or the wand cannot be set. */
function calibratedReach(): [fromMs: number, toMs: number] {
  let delayMs = 0;
  while (delayMs <= MOST_MS && LAMPS.every((aim) => isHit(aim, delayMs))) delayMs += STEP_MS;
  return [0, delayMs - STEP_MS];
}

function isHit(aim: (typeof LAMPS)[number], delayMs: number): boolean {
  const prepared = prepareStreet({
    files: builtFiles('calibrated'),
    path: LCD,
    delayMs,
    pulls: [{ aim: MARK, atMs: 800 + delayMs }],
    shots: [{ aim, atMs: 5000 + 2 * delayMs }],
  });
  return runShot(prepared, 0, { draws: 'aim' }).judgement === 'hit';
}
