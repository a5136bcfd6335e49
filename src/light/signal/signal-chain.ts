import { LatelightError } from '../../errors/latelight-error.ts';
import type { PictureHistory } from '../../picture/picture.ts';
import type { Timing } from '../../units/timing.ts';
import { findModel, type ModelSetting, settingValues } from '../parameters.ts';
import { SIGNAL_STAGES } from './index.ts';
import type { Presentation, SignalStage } from './signal-stage.ts';
import { sourcePresentation } from './source.ts';

export interface SignalChainState {
  readonly nextPicture: number;
  readonly presented: number;
  readonly kept: readonly Presentation[];
  readonly stages: readonly (readonly number[])[];
}

/** Presentations that are kept, 17 s of a 60 Hz console. Our choice. */
const KEPT_PRESENTATIONS = 1024;

/** The stages in a row, from the console's plug to the panel, and the latest presentations that came out of them. */
export class SignalChain {
  readonly isPureShift: boolean;
  /** What leaves is stored, see `Presentation.isStored`. */
  readonly isStored: boolean;
  /** Largest time from the plug to the end of the chain. */
  readonly largestLatencyTicks: number;
  /** Least of it. */
  readonly leastLatencyTicks: number;
  readonly #timing: Timing;
  readonly #stages: readonly SignalStage[];
  /** Ring of the latest presentations, as long as there are some; they outlive their pictures, so that a shot can be judged when it is over. */
  readonly #kept: (Presentation | undefined)[] = [];
  #nextPicture = 0;
  #presented = 0;

  constructor(settings: readonly ModelSetting[], timing: Timing) {
    this.#timing = timing;
    this.#stages = settings.map((setting) => {
      const model = findModel(SIGNAL_STAGES, setting.kind, 'signal stage');
      return model.create(settingValues(setting), { timing });
    });
    this.isPureShift = this.#stages.every((stage) => stage.isPureShift);
    this.isStored = this.#stages.reduce((isStored, stage) => stage.storesPicture(isStored), false);
    this.leastLatencyTicks = this.#stages.reduce((sum, stage) => sum + stage.latencyTicks.least, 0);
    this.largestLatencyTicks = this.#stages.reduce((sum, stage) => sum + stage.latencyTicks.largest, 0);
  }

  /** Begin at a picture that the history keeps for two frames more. */
  connect(history: PictureHistory): void {
    this.#nextPicture = Math.max(0, history.newest - history.capacity + 3);
  }

  /** Number of presentations so far; they are counted from 0. */
  get presented(): number {
    return this.#presented;
  }

  /** Take every picture that has begun. Error: INTERNAL if one is no longer kept: the path was not asked in time. */
  pull(history: PictureHistory): void {
    for (; this.#nextPicture <= history.newest; this.#nextPicture++) {
      const picture = history.get(this.#nextPicture);
      if (picture === undefined) throw notKept(this.#nextPicture);
      for (const presentation of this.#through(sourcePresentation(picture, this.#timing))) {
        this.#kept[this.#presented % KEPT_PRESENTATIONS] = presentation;
        this.#presented++;
      }
    }
  }

  #through(source: Presentation): readonly Presentation[] {
    let row: readonly Presentation[] = [source];
    for (const stage of this.#stages)
      row = row.length === 1 ? stage.present(row[0]!) : row.flatMap((one) => stage.present(one));
    return row;
  }

  /** The presentation with this count, undefined if there is none yet. Error: INTERNAL if it is no longer kept. */
  at(count: number): Presentation | undefined {
    if (count >= this.#presented) return undefined;
    if (count < this.#presented - KEPT_PRESENTATIONS) throw notKept(count);
    const presentation = this.#kept[count % KEPT_PRESENTATIONS];
    if (presentation === undefined) throw notKept(count);
    return presentation;
  }

  /** Count of the oldest presentation that is kept. */
  get oldest(): number {
    return Math.max(0, this.#presented - KEPT_PRESENTATIONS);
  }

  save(): SignalChainState {
    const kept: Presentation[] = [];
    for (let count = this.oldest; count < this.#presented; count++) kept.push(this.at(count)!);
    return {
      nextPicture: this.#nextPicture,
      presented: this.#presented,
      kept,
      stages: this.#stages.map((stage) => stage.save()),
    };
  }

  load(state: SignalChainState): void {
    this.#nextPicture = state.nextPicture;
    this.#presented = state.presented;
    this.#kept.length = 0;
    for (const [i, presentation] of state.kept.entries()) {
      this.#kept[(state.presented - state.kept.length + i) % KEPT_PRESENTATIONS] = presentation;
    }
    for (const [i, stage] of this.#stages.entries()) stage.load(state.stages[i]!);
  }
}

const notKept = (index: number): LatelightError =>
  new LatelightError('INTERNAL', {
    what: `picture ${index} is no longer kept but the light path has not shown it yet`,
  });
