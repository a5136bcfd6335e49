import { parseLabels } from '../../src/program/labels.ts';
import type { PreparedScenario, ScenarioFiles } from '../../src/shot/prepared-scenario.ts';
import { Shot, type ShotResult, type ShotState } from '../../src/shot/shot.ts';
import { msToTicks, type TimingId, ticksPerFrame } from '../../src/units/timing.ts';
import type { TheoremPath } from './light-paths.ts';
import { type Aim, frameMs, LAMPS, MARK, NOWHERE, type Pull, prepareStreet } from './practice-street.ts';

/** `calibration` after a good one. */
const GOOD = 2;
/** Before the trigger the wand rests on the aim for so long. */
const SETTLE_MS = 200;
/** From the moment to the first thing in which shots differ. */
const TO_MOVE_MS = 20;
/** Frames of a calibration: two dark ones and what surrounds them, two pulses, their watch, the result, the new street. */
const CALIBRATION_FRAMES = 8 + 41 + 46 + 100 + 10;
/** Frames from the trigger in which a shot is decided, besides the delay: black pictures, boxes, black slot. */
const SHOT_FRAMES = 24;

export interface Visit {
  readonly files: ScenarioFiles;
  readonly path: TheoremPath;
  readonly delayMs: number;
  readonly timing?: TimingId;
  /** When in its frame the trigger is pulled at the mark, ms. */
  readonly markPhaseMs?: number;
  readonly mark?: Aim;
  readonly more?: Readonly<Record<string, unknown>>;
}

/** One shot from the moment after the calibration. */
export interface StreetShot {
  readonly aim: Aim;
  /** Between its earliest instant and the trigger. */
  readonly laterMs: number;
  readonly moves?: boolean;
  /** Entries of this shot's scenario. */
  readonly more?: Readonly<Record<string, unknown>>;
}

/** What the calibration came to. */
export interface Calibration {
  /** 2 = good, from 129 on: refused. */
  readonly code: number;
  /** D in units of 8 scanlines. */
  readonly delayUnits: number;
  readonly blackFrames: number;
}

/**
 * Two consoles of a timing with the program of `files` in them, drawn only from the mark up or down to where an aim has needed it; used for
 * one shot after the other.
 */
const shooters: { upper?: Shot; lower?: Shot; files?: ScenarioFiles; timing?: TimingId } = {};

/**
 * One calibration, and any number of shots from the moment after it.
 *
 * The moment lies after the calibration and before the wand turns to the next aim, so that all shots have the same past. Its
 * pictures are drawn whole: every aim finds in them what it needs.
 */
export class CalibratedVisit {
  readonly calibration: Calibration;
  readonly #visit: Visit;
  readonly #timing: TimingId;
  readonly #pulls: readonly Pull[];
  readonly #momentMs: number;
  readonly #moment: ShotState;

  constructor(visit: Visit) {
    const { delayMs, timing = '60hz', markPhaseMs = 0, mark = MARK, files } = visit;
    this.#visit = visit;
    this.#timing = timing;
    const pullMs = 700 + delayMs + markPhaseMs;
    const streetMs = pullMs + delayMs + (CALIBRATION_FRAMES + (visit.path.isBuffered ? 1 : 0)) * frameMs(timing);
    this.#pulls = [{ aim: mark, atMs: pullMs }];
    this.#momentMs = streetMs + delayMs + 50;
    const prepared = this.prepare({ aim: LAMPS[1]!, laterMs: 0 });
    const shot = new Shot(prepared, 0);
    shot.runUntil(msToTicks(prepared.timing, this.#momentMs));
    this.#moment = shot.save();
    this.calibration = calibrationIn(this.#moment, files);
  }

  get isGood(): boolean {
    return this.calibration.code === GOOD;
  }

  /** The scenario of one shot, from power-on. */
  prepare({ aim, laterMs, moves = false, more }: StreetShot): PreparedScenario {
    const { files, path, delayMs } = this.#visit;
    // Moths must have come to the glass, and to the program's ring.
    const atMs = this.#momentMs + TO_MOVE_MS + SETTLE_MS + laterMs + (moves ? delayMs + 100 : 0);
    return prepareStreet({
      files,
      path,
      delayMs,
      timing: this.#timing,
      pulls: this.#pulls,
      shots: [{ aim, atMs }],
      ...(moves ? { mothsAtMs: this.#momentMs + TO_MOVE_MS } : {}),
      deadlineFrames: SHOT_FRAMES + Math.ceil(delayMs / frameMs(this.#timing)),
      more: { settleMs: SETTLE_MS, ...this.#visit.more, ...more },
    });
  }

  /** Run a shot from the moment until the program has said something. Errors: as `Shot`. */
  shoot(plan: StreetShot): ShotResult {
    const shot = this.#shotOf(plan);
    const frame = ticksPerFrame(this.prepare(plan).timing);
    let tick = shot.triggerTick;
    shot.runUntil(tick);
    while (!shot.isAnswered && tick < shot.deadlineTick) {
      tick += 2 * frame;
      shot.runUntil(Math.min(tick, shot.deadlineTick));
    }
    return shot.isAnswered ? shot.resultSoFar() : shot.finish();
  }

  /** Where the glass shows the moths when the trigger is pulled so much later: their middles. */
  mothsAt(laterMs: number): readonly Aim[] {
    const shot = this.#shotOf({ aim: { x: 10, y: 120 }, laterMs, moves: true });
    shot.runUntil(shot.triggerTick);
    return shot.shownTargets.map(({ x, y, width, height }) => ({ x: x + width / 2, y: y + height / 2 }));
  }

  #shotOf(plan: StreetShot): Shot {
    const prepared = this.prepare(plan);
    const side = plan.aim.y < MARK.y ? 'upper' : 'lower';
    if (shooters.files !== this.#visit.files || shooters.timing !== this.#timing) {
      shooters.files = this.#visit.files;
      shooters.timing = this.#timing;
      delete shooters.upper;
      delete shooters.lower;
    }
    if (shooters[side]?.again(prepared, 0, this.#moment, false)) return shooters[side];
    const shot = new Shot(prepared, 0, { draws: 'aim' });
    shot.goOnFrom(this.#moment);
    shooters[side] = shot;
    return shot;
  }
}

function calibrationIn(moment: ShotState, { labels }: ScenarioFiles): Calibration {
  const symbols = parseLabels(labels!);
  const byte = (name: string, offset = 0): number => moment.console.ram[symbols.get(name)! + offset]!;
  return {
    code: byte('calibration'),
    delayUnits: byte('delayUnits') + 256 * byte('delayUnits', 1),
    blackFrames: byte('blackFrames'),
  };
}

/** Seven aims: three lamps, three moths and nothing, each pulled at an instant of its own. */
export function sevenAims(visit: CalibratedVisit, lots: (i: number) => number): StreetShot[] {
  const laterMs = (i: number): number => 150 * lots(i);
  const mothsLaterMs = laterMs(3);
  const moths = visit.mothsAt(mothsLaterMs);
  return [
    ...LAMPS.map((aim, i) => ({ aim, laterMs: laterMs(i) })),
    ...moths.map((aim) => ({ aim, laterMs: mothsLaterMs, moves: true })),
    { aim: NOWHERE, laterMs: laterMs(4) },
  ];
}
