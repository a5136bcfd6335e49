import { LatelightError } from '../../errors/latelight-error.ts';
import { PANELS } from '../../light/panel/index.ts';
import { findModel, type ModelSetting, settingValues } from '../../light/parameters.ts';
import type { TargetRectangle } from '../../picture/picture.ts';
import { msToTicks, ticksPerFrame } from '../../units/timing.ts';
import type { PreparedScenario } from '../prepared-scenario.ts';
import { Shot, type ShotResult, type ShotState } from '../shot.ts';
import type { Aim } from '../truth.ts';
import { type PictureNote, PictureNotes } from './picture-notes.ts';
import { ShotRecord } from './shot-record.ts';
import { atOnce, type Stepwise } from './stepwise.ts';

/** A state of the first run to go on from. */
export interface SavedMoment {
  readonly isBeforePulls: boolean;
  readonly tick: number;
  readonly state: ShotState;
}

/** The first run of a shot with everything that cause finding may look at. */
export interface Observation {
  readonly prepared: PreparedScenario;
  readonly shot: number;
  readonly result: ShotResult;
  readonly record: ShotRecord;
  /** From the last picture begun before the trigger on, up to the decision or the deadline. */
  readonly pictures: readonly PictureNote[];
  /** Targets of the latest pictures before the trigger, by index, oldest first. */
  readonly earlier: readonly { readonly index: number; readonly targets: readonly TargetRectangle[] }[];
  /** Where the wand pointed during the shot: aims by tick, from the trigger on. */
  readonly hand: readonly { readonly tick: number; readonly aim: Aim }[];
  /** Picture that the glass showed at the aim when the trigger was pulled. */
  readonly shownPicture: number;
  readonly moments: readonly SavedMoment[];
}

/** A light path that is made anew runs so long before the trigger, and longer on a slow panel. Our choice. */
const SETTLE_FRAMES = 8;
/** An exponential is within 1 % of its end after so many time constants. Derived: ln 100. */
const SETTLE_TAUS = 4.6;
/** A moment is kept so long before the trigger for contacts that close earlier. Our choice. */
const EARLY_FRAMES = 48;
/** Pictures before the trigger whose targets are kept. Our choice: more than any ring of places. */
const EARLIER_PICTURES = 64;
const FRAMES_BEFORE_PULL = 4;

/** How long before the trigger a run with a new light path must begin. Ticks. */
export function settleTicks({ scenario, timing }: PreparedScenario): number {
  const slowestS = (panel: ModelSetting) =>
    findModel(PANELS, panel.kind, 'panel').slowestS(settingValues(panel)) * SETTLE_TAUS;
  const frame = ticksPerFrame(timing);
  const frames = Math.ceil(msToTicks(timing, slowestS(scenario.lightPath.panel) * 1000) / frame);
  return (SETTLE_FRAMES + Math.min(60, frames)) * frame;
}

/**
 * Run a shot and keep what its causes may be found in. The result is that of `runShot`, to the byte; a program that jams
 * during the shot has said nothing. Errors: as `runShot`; PROGRAM_JAMMED only for a jam before the trigger.
 */
export function observeShot(prepared: PreparedScenario, shot: number): Observation {
  return atOnce(new Observer(prepared, shot).observe());
}

/** Where an observation begins when it does not begin at power-on; aims to come, the hand's too, are in the state of the light. */
export type ObservationStart = Omit<ShotState, 'watch' | 'pullsLight'>;

/** The same from a state that was saved before the trigger, a frame at a time. Errors: as `observeShot`; STATE_FIELD. */
export function* observeShotFrom(
  prepared: PreparedScenario,
  shot: number,
  start: ObservationStart,
): Stepwise<Observation> {
  const triggerTick = msToTicks(prepared.timing, prepared.scenario.shots[shot]?.atMs ?? 0);
  const hand = start.light.moves.filter(({ tick }) => tick > triggerTick);
  return { ...(yield* new Observer(prepared, shot, start).observe()), hand };
}

/** Before the trigger nothing has been seen. */
const NOT_BEGUN: ShotState['watch'] = {
  truth: null,
  shownTargets: [],
  warnings: [],
  flash: null,
  aimedTarget: -1,
  before: null,
  mismatch: null,
  otherLight: -1,
  heard: [],
  reads: new Float64Array(0),
};

/** So long before the trigger a state must have been saved to be gone on from in every world. Ticks. */
export const leadTicks = (prepared: PreparedScenario): number =>
  settleTicks(prepared) + EARLY_FRAMES * ticksPerFrame(prepared.timing);

class Observer {
  readonly #prepared: PreparedScenario;
  readonly #shot: Shot;
  readonly #number: number;
  readonly #record: ShotRecord;
  readonly #frame: number;
  readonly #moments: SavedMoment[] = [];
  readonly #earlier: { index: number; targets: readonly TargetRectangle[] }[] = [];
  readonly #notes: PictureNotes;

  constructor(prepared: PreparedScenario, shot: number, start?: ObservationStart) {
    const { timing, scenario } = prepared;
    this.#prepared = prepared;
    this.#number = shot;
    this.#frame = ticksPerFrame(timing);
    const triggerTick = msToTicks(timing, scenario.shots[shot]?.atMs ?? 0);
    this.#record = new ShotRecord(triggerTick - 2 * this.#frame);
    this.#shot = new Shot(prepared, shot, { tap: this.#record });
    if (start !== undefined) this.#shot.load({ ...start, watch: NOT_BEGUN });
    const { aim, spectralWeights } = this.#shot;
    this.#notes = new PictureNotes(prepared, { aim, spectralWeights, spot: this.#shot.spotAt(aim) });
  }

  *observe(): Stepwise<Observation> {
    const { triggerTick } = this.#shot;
    yield* this.#runToTrigger(triggerTick);
    this.#shot.runUntil(triggerTick);
    const shownPicture = this.#shot.pictureShownAt(triggerTick);
    const result = yield* this.#runShot();
    return {
      prepared: this.#prepared,
      shot: this.#number,
      result,
      record: this.#record,
      pictures: this.#notes.pictures,
      earlier: this.#earlier,
      hand: this.#shot.movesOfHand,
      shownPicture,
      moments: this.#moments,
    };
  }

  *#runToTrigger(triggerTick: number): Stepwise<void> {
    const { scenario, timing } = this.#prepared;
    const settle = settleTicks(this.#prepared);
    const stops = [triggerTick - leadTicks(this.#prepared), triggerTick - settle];
    const [first] = scenario.pulls;
    const pulls = first === undefined ? -1 : msToTicks(timing, first.atMs) - FRAMES_BEFORE_PULL * this.#frame;
    if (first !== undefined) stops.push(pulls);
    for (const stop of stops.sort((a, b) => a - b)) {
      yield* this.#runKeeping(Math.max(0, stop), triggerTick);
      this.#moments.push({ isBeforePulls: stop === pulls, tick: this.#shot.tick, state: this.#shot.save() });
    }
    yield* this.#runKeeping(triggerTick - 1, triggerTick);
  }

  /** Run to a tick; frame by frame where the places of the targets are kept. */
  *#runKeeping(toTick: number, triggerTick: number): Stepwise<void> {
    const from = Math.min(toTick, triggerTick - EARLIER_PICTURES * this.#frame);
    if (from > this.#shot.tick) this.#shot.runUntil(from);
    while (this.#shot.tick < toTick) {
      this.#shot.runUntil(Math.min(this.#shot.tick + this.#frame, toTick));
      this.#keepTargets();
      yield;
    }
  }

  #keepTargets(): void {
    const { history } = this.#shot;
    for (let index = Math.max(0, history.newest - 3); index <= history.newest; index++) {
      const last = this.#earlier[this.#earlier.length - 1];
      const picture = history.get(index);
      if (picture !== undefined && (last === undefined || index > last.index))
        this.#earlier.push({ index, targets: picture.targets });
    }
  }

  *#runShot(): Stepwise<ShotResult> {
    const { deadlineTick } = this.#shot;
    try {
      yield* this.#notes.follow(this.#shot);
      while (this.#shot.tick < deadlineTick) {
        this.#shot.runUntil(Math.min(this.#shot.tick + this.#frame, deadlineTick));
        yield;
      }
      return this.#shot.finish();
    } catch (error) {
      if (!(error instanceof LatelightError) || error.code !== 'PROGRAM_JAMMED') throw error;
      return this.#shot.resultSoFar();
    }
  }
}
