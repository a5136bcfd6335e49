import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../units/timing.ts';
import { ChangedDots } from './changed-dots.ts';
import { type FineFlashes, fineFlashesOf } from './fine-flashes.ts';
import {
  FlashAnalyser,
  type FlashAnalyserOptions,
  type FlashVerdict,
  type ShownSize,
  verdictOf,
  type WorstFlash,
} from './flash-analyser.ts';
import { FlashLoad, LOAD_STEPS, type LoadFound } from './flash-load.ts';
import { type FlashProfile, isLarge } from './flash-profile.ts';
import { WINDOW_S } from './recent-changes.ts';
import { SceneCuts } from './scene-cuts.ts';

/** Scenes told apart; what follows belongs to the last one. Our choice. */
const MOST_SCENES = 64;
/** Pictures kept of the worst second: fewer than the pairs of stripes that themselves call for care. Our choice. */
const MOST_PICTURES = 8;
const SLACK = 1e-9;
/** How often single dots are looked at for the load, s. Our choice. */
const DOTS_EVERY_S = 0.1;

export interface FlashWatchOptions {
  readonly profiles: readonly FlashProfile[];
  readonly size: ShownSize;
  readonly raster?: FlashAnalyserOptions['raster'];
  /** sRGB by code: then fine patterns are followed too, where pictures come with their codes. */
  readonly bytes?: Uint8Array;
  /** The watch of the same profiles that this one goes on from: how long flashes have gone on is taken over. */
  readonly before?: FlashWatch<unknown>;
}

/** A scene of the stream: title, street, ... */
export interface SceneVerdict {
  readonly fromS: number;
  readonly toS: number;
  readonly passes: boolean;
  readonly worst: readonly WorstFlash[];
}

/** A picture, and from when on it was shown. */
export interface TimedPicture<Picture> {
  readonly timeS: number;
  readonly picture: Picture;
}

/** Pictures at which something changed within the second with the most changes. */
export interface WorstSecond<Picture> {
  readonly fromS: number;
  readonly toS: number;
  /** What the first of them changed; null where it was not kept. */
  readonly before: TimedPicture<Picture> | null;
  readonly pictures: readonly TimedPicture<Picture>[];
  /** Pictures of that second that are not among them. */
  readonly left: number;
}

export interface StreamVerdict<Picture> extends FlashVerdict {
  readonly scenes: readonly SceneVerdict[];
  readonly load: readonly LoadFound[];
  /** Null where nothing changed. */
  readonly worstSecond: WorstSecond<Picture> | null;
}

export interface WatchedFrame<Picture> {
  /** Linear light by cell, shape `[cell * 3 + primary]`. */
  readonly light: Float64Array;
  readonly timeS: number;
  /** Called where the picture is kept. */
  readonly picture: () => Picture;
  /** The picture before this one; called where that is kept. */
  readonly before?: () => Picture;
  readonly codes?: Uint16Array;
  /** Cells of 8 dots that differ from the picture before. */
  readonly changed?: Uint8Array;
  /** It is the picture before once more: then there is nothing to compare. */
  readonly isSame?: boolean;
}

/** A picture that changed something, and the one that it changed where that is none of these. */
interface Change<Picture> extends TimedPicture<Picture> {
  readonly before: TimedPicture<Picture> | null;
}

interface Scene {
  readonly fromS: number;
  readonly worst: Map<string, WorstFlash>;
}

/** Follows a stream of pictures against several profiles, scene by scene. Memory does not grow with the stream. */
export class FlashWatch<Picture> {
  readonly #profiles: readonly ProfileWatch<Picture>[];
  readonly #cuts = new SceneCuts();
  readonly #dots: ChangedDots;
  #scenes = 0;
  /** Pictures that changed something within the last second. */
  #recent: Change<Picture>[] = [];
  #timeS = 0;
  /** The latest picture changed something. */
  #isChange = false;

  /** Errors: PARAM_RANGE. */
  constructor(options: FlashWatchOptions) {
    this.#profiles = options.profiles.map((profile, i) => new ProfileWatch(profile, options, options.before?.loads[i]));
    const { width, height } = options.raster ?? { width: PICTURE_WIDTH, height: PICTURE_HEIGHT };
    this.#dots = new ChangedDots(width, height);
  }

  /** How long flashes have gone on, by profile. */
  get loads(): readonly FlashLoad[] {
    return this.#profiles.map(({ load }) => load);
  }

  /** The next frame. Error: PARAM_RANGE if time goes back. */
  push(frame: WatchedFrame<Picture>): void {
    const { light, timeS, picture, before, codes, changed, isSame = false } = frame;
    const beforeS = this.#timeS;
    this.#timeS = timeS;
    this.#cut(light, timeS, isSame);
    let hasChanged = false;
    const dots = codes === undefined || isSame ? undefined : this.#dots.of(codes, changed);
    for (const profile of this.#profiles) if (profile.push(frame, dots)) hasChanged = true;
    this.#forget(timeS);
    const isFirst = !this.#isChange || this.#recent.length === 0;
    this.#isChange = hasChanged;
    if (!hasChanged) return;
    const isKept = isFirst && before !== undefined;
    this.#recent.push({ timeS, picture: picture(), before: isKept ? { timeS: beforeS, picture: before() } : null });
    for (const profile of this.#profiles) profile.keep(this.#recent);
  }

  #forget(timeS: number): void {
    while (this.#recent.length > 0 && timeS - this.#recent[0]!.timeS > WINDOW_S + SLACK) {
      const { timeS: goneS, picture } = this.#recent.shift()!;
      const [next] = this.#recent;
      if (next?.before === null) this.#recent[0] = { ...next, before: { timeS: goneS, picture } };
    }
  }

  #cut(light: Float64Array, timeS: number, isSame: boolean): void {
    const step = this.#cuts.push(light, timeS, isSame);
    if (step.kind === 'leaves') for (const profile of this.#profiles) profile.endStretch();
    if (step.kind !== 'begins' || this.#scenes === MOST_SCENES) return;
    this.#scenes++;
    for (const profile of this.#profiles) profile.beginScene(step.fromS);
  }

  /** What was found so far, in the order of the profiles. */
  verdicts(): StreamVerdict<Picture>[] {
    return this.#profiles.map((profile) => profile.verdict(this.#timeS));
  }
}

/** One profile of a watch. */
class ProfileWatch<Picture> {
  readonly #profile: FlashProfile;
  readonly #analyser: FlashAnalyser;
  readonly #fine: readonly FineFlashes[];
  readonly load: FlashLoad;
  #lookedS = Number.NEGATIVE_INFINITY;
  #dotsNow = 0;
  #scenes: Scene[] = [];
  #kept: { readonly changes: number; readonly window: readonly Change<Picture>[] } = { changes: 0, window: [] };

  constructor(profile: FlashProfile, { size, raster, bytes }: FlashWatchOptions, load = new FlashLoad()) {
    this.#profile = profile;
    this.load = load;
    this.#analyser = new FlashAnalyser({ profile, size, ...(raster && { raster }) });
    const isTooSmall = !isLarge(this.#analyser.wholeShare, profile);
    this.#fine = bytes === undefined || isTooSmall ? [] : fineFlashesOf(profile, size, bytes, raster);
  }

  /** Answers whether anything changed. */
  push({ light, timeS, codes, changed, isSame }: WatchedFrame<Picture>, dots: Int32Array | undefined): boolean {
    if (isSame === true) {
      this.#analyser.pushSame(timeS);
      for (const fine of this.#fine) fine.pushSame(timeS);
      this.load.push(this.#changesAt(timeS), timeS);
      return false;
    }
    this.#analyser.push(light, timeS, dots);
    if (codes !== undefined)
      for (const fine of this.#fine) fine.push(codes, timeS, changed, this.#analyser.latestAtPlace(fine.kind));
    this.load.push(this.#changesAt(timeS), timeS);
    return this.#analyser.hasChanged || this.#fine.some(({ hasChanged }) => hasChanged);
  }

  /** Opposing changes within the second that ends now; those of single dots by the steps of the load, looked at now and then. */
  #changesAt(timeS: number): number {
    const changes = Math.max(this.#analyser.changesNow, ...this.#fine.map((fine) => fine.fieldNow(timeS)));
    if (timeS - this.#lookedS >= DOTS_EVERY_S) {
      this.#lookedS = timeS;
      const isReached = (step: number): boolean => step > changes && this.#fine.some((fine) => fine.isLargeNow(step));
      this.#dotsNow = LOAD_STEPS.find(isReached) ?? 0;
    }
    return Math.max(changes, this.#dotsNow);
  }

  /** Keep the pictures of this second if it is the worst so far. */
  keep(window: readonly Change<Picture>[]): void {
    const worst = this.#worstOfDots().map(({ changes: of }) => of);
    const changes = Math.max(this.#analyser.worstChanges, ...worst);
    if (changes > this.#kept.changes) this.#kept = { changes, window: [...window] };
  }

  #worstOfDots(): WorstFlash[] {
    return this.#fine.flatMap(({ worst, worstInField }) => [worst, worstInField]);
  }

  /** The scene is left, perhaps for a flash: what was worst until now is the scene's. */
  endStretch(): void {
    const scene = this.#scenes[this.#scenes.length - 1];
    if (scene !== undefined) takeWorse(scene.worst, this.#take());
  }

  beginScene(fromS: number): void {
    this.#scenes.push({ fromS, worst: new Map() });
  }

  #take(): WorstFlash[] {
    return [...this.#analyser.takeWorst(), ...this.#fine.flatMap((fine) => fine.takeWorst())];
  }

  verdict(timeS: number): StreamVerdict<Picture> {
    this.endStretch();
    const { frames, worst: byCells } = this.#analyser.verdict();
    const worst = new Map<string, WorstFlash>();
    takeWorse(worst, [...byCells, ...this.#worstOfDots()]);
    return {
      ...verdictOf(this.#profile, frames, [...worst.values()]),
      scenes: this.#scenes.map(({ fromS, worst: inScene }, i) => {
        const { passes, worst: found } = verdictOf(this.#profile, 0, [...inScene.values()]);
        return { fromS, toS: this.#scenes[i + 1]?.fromS ?? timeS, passes, worst: found };
      }),
      load: this.load.found,
      worstSecond: worstSecondOf(this.#kept.window),
    };
  }
}

function takeWorse(worst: Map<string, WorstFlash>, found: readonly WorstFlash[]): void {
  for (const one of found) {
    const key = `${one.kind} ${one.counting}`;
    if (one.changes > (worst.get(key)?.changes ?? -1)) worst.set(key, one);
  }
}

function worstSecondOf<Picture>(window: readonly Change<Picture>[]): WorstSecond<Picture> | null {
  const [first] = window;
  if (first === undefined) return null;
  const pictures = window.slice(0, MOST_PICTURES).map(({ timeS, picture }) => ({ timeS, picture }));
  return {
    fromS: first.timeS,
    toS: window[window.length - 1]!.timeS,
    before: first.before,
    pictures,
    left: window.length - pictures.length,
  };
}
