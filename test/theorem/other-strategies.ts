import { isLitAt } from '../../src/shot/light-bit.ts';
import type { ScenarioFiles } from '../../src/shot/prepared-scenario.ts';
import { runShot, type ShotResult } from '../../src/shot/shot.ts';
import { msToTicks, TIMINGS, ticksToMs } from '../../src/units/timing.ts';
import type { Strategy } from '../lamplighter.ts';
import { type TheoremPath, TUBE } from './light-paths.ts';
import { type Aim, builtFiles, changedFiles, LAMPS, prepareStreet } from './practice-street.ts';
import { BLACK_SCENE, BLIND, WHITE_SCENE } from './program-changes.ts';
import { range } from './shot-count.ts';

export type FrameStrategy = Exclude<Strategy, 'calibrated'>;

const timing = TIMINGS['60hz'];
/** Late enough for the street to be on any glass of these tests. */
const TRIGGER_MS = 1500;
/** The trace is taken on a screen that is late by so much. */
const TRACED_MS = 5;
/** Two reads of one frame are 14 cycles apart, those around an NMI 800 and more. */
const BETWEEN_FRAMES_CYCLES = 200;
/** ... and longer than this where `decide` is asked in between. */
const BEFORE_DECIDE_CYCLES = 30;
/** An edge of the first prediction is off by less than the NMI handler takes: how the polls meet the NMI differs by then. */
const REFINED_WITHIN_MS = 0.6;

/** One shot of a strategy that asks one question a frame, from power-on. */
function shootAt(files: ScenarioFiles, path: TheoremPath, delayMs: number, aim: Aim): ShotResult {
  const shots = [{ aim, atMs: TRIGGER_MS }];
  return runShot(prepareStreet({ files, path, delayMs, shots, deadlineFrames: 45 }), 0, { draws: 'aim' });
}

/**
 * Reads of the port by frame, that of the first picture of the script first. A loop that has just looked for a new frame when
 * the NMI comes reads once more behind the handler: that read still belongs to the frame before.
 */
function readsByFrame({ reads }: ShotResult): number[][] {
  const frames: number[][] = [[]];
  for (const [i, tick] of reads.entries()) {
    const last = frames[frames.length - 1]!;
    const next = reads[i + 1] ?? tick;
    if (last.length === 0 || tick - last[last.length - 1]! < BETWEEN_FRAMES_CYCLES * timing.cpuDivider) last.push(tick);
    else if (next - tick > BEFORE_DECIDE_CYCLES * timing.cpuDivider) {
      last.push(tick);
      frames.push([]);
    } else frames.push([tick]);
  }
  return frames.filter((frame) => frame.length > 100); // before the script, play reads it once a frame
}

/** On a tube the scene's own flashes cross every frame: its windows are those of the boxes on a black scene. */
const sceneOf = (path: TheoremPath): Readonly<Record<string, string>> =>
  path.panel['kind'] === 'beam-tube' ? BLACK_SCENE : {};
const filesOf = (strategy: FrameStrategy, path: TheoremPath): ScenarioFiles =>
  path.panel['kind'] === 'beam-tube' ? changedFiles(strategy, sceneOf(path)) : builtFiles(strategy);

/** -1 = none. */
type Verdict = number;

/** Each strategy's rule, as its page says it: `saw[f]`, some read of frame f saw light; `ends[f]`, the last one did. */
const RULES: Readonly<Record<FrameStrategy, (saw: readonly boolean[], ends: readonly boolean[]) => Verdict>> = {
  'same-frame-untested': (saw) => [1, 2, 3].findIndex((f) => saw[f]),
  'same-frame-tested': (saw, ends) => (ends[0] ? -1 : [1, 2, 3].findIndex((f) => saw[f])),
  // Three frames late: two black pictures, two pictures a box.
  'fixed-delay': (saw, ends) => (ends[4] ? -1 : Math.floor([5, 6, 7, 8, 9, 10].findIndex((f) => saw[f]) / 2)),
};

/**
 * What a strategy says at any delay, predicted from one trace: the light of a shot moves with the delay, the reads do not.
 * The trace is that of a program that never sees light, and so shows its whole script.
 */
class Prediction {
  readonly #strategy: FrameStrategy;
  readonly #path: TheoremPath;
  readonly #aim: Aim;
  readonly #frames: readonly (readonly number[])[];
  readonly #flips: readonly number[];

  constructor(strategy: FrameStrategy, path: TheoremPath, aim: Aim) {
    const trace = shootAt(changedFiles(strategy, { ...BLIND, ...sceneOf(path) }), path, TRACED_MS, aim);
    this.#strategy = strategy;
    this.#path = path;
    this.#aim = aim;
    this.#frames = readsByFrame(trace);
    this.#flips = trace.flips;
  }

  at(delayMs: number, frames = this.#frames): Verdict {
    const shift = msToTicks(timing, delayMs) - msToTicks(timing, TRACED_MS);
    const flips = this.#flips.map((tick) => tick + shift);
    const lit = frames.map((frame) => litReads(frame, flips));
    return RULES[this.#strategy](
      lit.map(({ some }) => some),
      lit.map(({ last }) => last),
    );
  }

  /** Delays at which the verdict changes: found in the trace of the blind program, refined in that of the real one. */
  edges(toMs: number): number[] {
    return this.#changes(0, toMs, 0.5, this.#frames).flatMap((edge) => {
      const later = shootAt(filesOf(this.#strategy, this.#path), this.#path, edge + REFINED_WITHIN_MS, this.#aim);
      const real = readsByFrame(later).slice(0, -1); // the last frame may have been left early
      const frames = this.#frames.map((blind, f) => real[f] ?? blind);
      return this.#changes(Math.max(0, edge - REFINED_WITHIN_MS), edge + REFINED_WITHIN_MS, 0.05, frames);
    });
  }

  #changes(fromMs: number, toMs: number, stepMs: number, frames: readonly (readonly number[])[]): number[] {
    const edges: number[] = [];
    for (let low = fromMs; low < toMs; low += stepMs) {
      let [from, to] = [low, low + stepMs];
      const before = this.at(from, frames);
      if (before === this.at(to, frames)) continue;
      while (to - from > 0.005) {
        const middle = (from + to) / 2;
        if (this.at(middle, frames) === before) from = middle;
        else to = middle;
      }
      edges.push((from + to) / 2);
    }
    return edges;
  }
}

/** Whether some read and the last read of a frame see light. */
function litReads(frame: readonly number[], flips: readonly number[]): { some: boolean; last: boolean } {
  const end = frame[frame.length - 1]!;
  let some = isLitAt(flips, frame[0]!);
  for (let i = 0; i < flips.length && !some; i += 2) {
    const [on, off = Number.POSITIVE_INFINITY] = [flips[i]!, flips[i + 1]];
    if (on <= end && off > frame[0]!) some = frame.some((tick) => tick >= on && tick < off);
  }
  return { some, last: isLitAt(flips, end) };
}

const verdictOf = ({ said }: ShotResult): Verdict => (said.kind === 'target' ? said.target : -1);

/** A strategy against its prediction: on both sides of each edge, 0.1 ms away, and on a grid. */
export interface WindowTrial {
  readonly strategy: FrameStrategy;
  readonly panel: string;
  readonly lamp: number;
  readonly edgesMs: readonly number[];
  /** Delays at which the lamp is hit, from edge to edge. */
  readonly hitsMs: readonly (readonly [from: number, to: number])[];
  readonly trials: number;
  readonly different: readonly string[];
}

export function tryWindow(strategy: FrameStrategy, path: TheoremPath, lamp: number, toMs: number): WindowTrial {
  const files = filesOf(strategy, path);
  const prediction = new Prediction(strategy, path, LAMPS[lamp]!);
  const edgesMs = prediction.edges(toMs);
  const borders = [0, ...edgesMs, toMs];
  const spans = borders.slice(1).map((to, i) => {
    const from = borders[i]!;
    return { from, to, says: prediction.at((from + to) / 2) };
  });
  const trials = spans
    .filter(({ from, to }) => to - from > 0.2)
    .flatMap(({ from, to, says }) => [from + 0.1, (from + to) / 2, to - 0.1].map((delayMs) => ({ delayMs, says })));
  const different = trials.flatMap(({ delayMs, says }) => {
    const said = verdictOf(shootAt(files, path, delayMs, LAMPS[lamp]!));
    return said === says ? [] : [`${delayMs.toFixed(3)} ms: said ${said}, predicted ${says}`];
  });
  const hitsMs = spans.filter(({ says }) => says === lamp).map(({ from, to }) => [from, to] as const);
  return { strategy, panel: path.name, lamp, edgesMs, hitsMs, trials: trials.length, different };
}

/** A panel that answers within 1 ms, refreshed as the picture arrives. */
const QUICK: TheoremPath = {
  name: 'quick LCD',
  panel: { kind: 'lcd', riseMs: 1, fallMs: 1, scanMs: 15.25 },
  isBuffered: false,
};
/** Column without targets, and its rows. */
const BAND_X = 14;
const BAND_ROWS = range(14, 194, 4);

export interface BandTrial {
  readonly delayMs: number;
  readonly rows: number;
  /** Rows at which the untested form says that the first target was hit, the tested one that some was. */
  readonly untestedHits: number;
  readonly testedHits: number;
  /** First such row of the untested form, and the first by the rule y > 1 - L / 15.24 ms. */
  readonly firstRow: number;
  readonly ruleRow: number;
  /** That rule with the time from the end of the picture to the first read behind the handler, and the panel's fall. */
  readonly exactRow: number;
  readonly isOneBand: boolean;
}

/** Aims at nothing under a white scene: where the bright band is taken for a hit. */
export function tryBrightBand(delayMs: number): BandTrial {
  const untested = changedFiles('same-frame-untested', WHITE_SCENE);
  const tested = changedFiles('same-frame-tested', WHITE_SCENE);
  const results = BAND_ROWS.map((y) => shootAt(untested, QUICK, delayMs, { x: BAND_X, y }));
  const hits = results.map(({ judgement }) => judgement === 'false hit');
  const testedHits = BAND_ROWS.filter(
    (y) => shootAt(tested, QUICK, delayMs, { x: BAND_X, y }).judgement !== 'rightly none',
  ).length;
  const firstHit = hits.indexOf(true);
  return {
    delayMs,
    rows: BAND_ROWS.length,
    untestedHits: hits.filter((isHit) => isHit).length,
    testedHits,
    firstRow: firstHit < 0 ? 240 : BAND_ROWS[firstHit]!,
    ruleRow: 240 * (1 - delayMs / 15.24),
    exactRow: exactFirstRow(results[0]!),
    isOneBand: hits.every((isHit, i) => isHit === (firstHit >= 0 && i >= firstHit)),
  };
}

/** A row is dark `dark` after the top of the black picture plus its own scan; the box's frame begins to read at `read`. */
function exactFirstRow(result: ShotResult): number {
  const row = result.aim.y;
  const lastDark = result.flips.filter((tick, i) => i % 2 === 1 && tick > result.ticks.trigger)[0]!;
  const topMs = ticksToMs(timing, lastDark) - (row / 240) * 15.25;
  const readMs = ticksToMs(timing, readsByFrame(result)[1]![0]!);
  return ((readMs - topMs) / 15.25) * 240;
}

export const WINDOW_PATHS: readonly TheoremPath[] = [TUBE, { name: 'LCD', panel: { kind: 'lcd' }, isBuffered: false }];
