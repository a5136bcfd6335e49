import { LatelightError } from '../errors/latelight-error.ts';
import type { LightPath } from '../light/light-path.ts';
import type { LineRange, Picture, PictureHistory, TargetRectangle } from '../picture/picture.ts';
import type { PortReads, TraceEvent } from '../trace/trace.ts';
import { type Timing, ticksPerFrame, ticksToMs } from '../units/timing.ts';
import { type BoxSighting, type Flash, FlashFinder, pairAt } from './flash.ts';
import { type Judgement, judge, type Said } from './judgement.ts';
import { isLitAt } from './light-bit.ts';
import type { Probes } from './probes.ts';
import type { Scenario } from './scenario.ts';
import { type Aim, aimedTargetOf, centreOf, findTruth, type Rectangle, type Truth } from './truth.ts';

/** Something that the program said: the tick and the value of the probe. */
interface Heard {
  readonly tick: number;
  readonly says: number;
}

/**
 * The instants of a shot, in ticks since power-on; null where a thing did not happen.
 * `flashOnWire` to `crossing` follow the first dot of the flash inside the spot.
 */
export interface ShotTicks {
  readonly trigger: number;
  readonly flashOnWire: number | null;
  /** The panel begins to show the flash's line at the spot. */
  readonly lightAtSpot: number | null;
  /** The light bit first turns lit after that. */
  readonly crossing: number | null;
  /** The first read of the port that saw light, whatever light it was. */
  readonly firstLitRead: number | null;
  readonly lastRead: number | null;
  readonly decision: number | null;
  readonly deadline: number;
}

export interface ShotResult {
  readonly shot: number;
  readonly aim: Aim;
  readonly truth: Truth;
  readonly said: Said;
  /** The program said something more before the deadline: an error of the program. */
  readonly saidTwice: boolean;
  readonly judgement: Judgement;
  readonly ticks: ShotTicks;
  /** Ticks of the port reads from the trigger to the decision (or the deadline). */
  readonly reads: readonly number[];
  /** Ticks at which the light bit changed, from power-on (unlit) to the deadline. */
  readonly flips: readonly number[];
  /** The targets that the glass showed at the aim when the trigger was pulled. */
  readonly shownTargets: readonly TargetRectangle[];
  readonly warnings: readonly string[];
}

/** Where a shot is watched: the console's pictures, the light path, and what the scenario says about the program. */
export interface ShotWatchSetup {
  readonly scenario: Pick<Scenario, 'targets' | 'limits' | 'ports' | 'deadlineFrames'>;
  readonly timing: Timing;
  readonly probes: Probes;
  readonly history: PictureHistory;
  readonly light: LightPath;
  readonly peek: (address: number) => number;
  /** Number of the shot. */
  readonly shot: number;
  readonly aim: Aim;
  readonly triggerTick: number;
  /** The scanlines that are drawn. */
  readonly lines: LineRange;
  /** The last tick at which the program may say something, where it is not that of the scenario. */
  readonly deadlineTick?: number;
}

/** What has been seen of a shot so far, as plain data. */
export interface ShotWatchState {
  readonly truth: Truth | null;
  readonly shownTargets: readonly TargetRectangle[];
  readonly warnings: readonly string[];
  readonly flash: Flash | null;
  readonly aimedTarget: number;
  readonly before: Picture | null;
  readonly mismatch: Extract<BoxSighting, { kind: 'other' }> | null;
  readonly otherLight: number;
  readonly heard: readonly Heard[];
  /** Ticks of the port reads since the trigger. */
  readonly reads: Float64Array;
}

/** Frames after the light path's latency by which a program has decided, unless its strategy declares others. Our choice. */
const SAFETY_FRAMES = 60;

/** The last tick at which the program may say something: declared, or the light path's latency and a second more. */
export function deadlineAfter(
  triggerTick: number,
  { deadlineFrames }: Pick<Scenario, 'deadlineFrames'>,
  { stageLatencyTicks }: Pick<LightPath, 'stageLatencyTicks'>,
  timing: Timing,
): number {
  const frames = deadlineFrames ?? Math.ceil(stageLatencyTicks / ticksPerFrame(timing)) + SAFETY_FRAMES;
  return triggerTick + frames * ticksPerFrame(timing);
}

/**
 * Watches one pull of the trigger: truth when it is pulled, then flash, port reads and what the program says.
 * It is given every event of the trace, and never steers anything.
 */
export class ShotWatch {
  readonly triggerTick: number;
  /** The last tick at which the program may say something. */
  readonly deadlineTick: number;
  readonly #setup: ShotWatchSetup;
  readonly #aim: Aim;
  readonly #finder: FlashFinder;
  readonly #reads: number[] = [];
  readonly #warnings: string[] = [];
  #truth: Truth | undefined;
  #shownTargets: readonly TargetRectangle[] = [];
  #aimedTarget = -1;
  /** The last picture that was complete when the trigger was pulled. */
  #before: Picture | undefined;
  #flash: Flash | undefined;
  #mismatch: Extract<BoxSighting, { kind: 'other' }> | undefined;
  /** The first picture after the flash that makes the spot brighter again; -1 = none. */
  #otherLight = -1;
  readonly #heard: Heard[] = [];

  constructor(setup: ShotWatchSetup) {
    const { timing, light, aim, triggerTick, lines } = setup;
    this.#setup = setup;
    this.#aim = aim;
    this.#finder = new FlashFinder(timing, light.spotAt(aim), light.spectralWeights, lines);
    this.triggerTick = triggerTick;
    this.deadlineTick = setup.deadlineTick ?? deadlineAfter(triggerTick, setup.scenario, light, timing);
  }

  get hasBegun(): boolean {
    return this.#truth !== undefined;
  }

  /** What the aim was on when the trigger was pulled. */
  get truth(): Truth | undefined {
    return this.#truth;
  }

  get hasFlash(): boolean {
    return this.#flash !== undefined;
  }

  /** The targets that the glass showed when the trigger was pulled. */
  get targetsAtTrigger(): readonly TargetRectangle[] {
    return this.#shownTargets;
  }

  /** The program has said something. */
  get isAnswered(): boolean {
    return this.#heard.length > 0;
  }

  /** Tick of the access that said something first. */
  get decisionTick(): number | null {
    return this.#heard[0]?.tick ?? null;
  }

  /** Tick of the latest read of a light sensor since the trigger, the decision the last; null if there was none. */
  get lastReadTick(): number | null {
    return this.#reads[this.#reads.length - 1] ?? null;
  }

  /** When light of the flash that has been seen lit the bit first; null if it did not up to the latest tick asked for. */
  get crossingTick(): number | null {
    return this.#instants(this.#reads).crossing;
  }

  /** What it has said so far. Error: SAID_RANGE. */
  get saidSoFar(): Said {
    return this.#said();
  }

  /** The trigger is pulled: the truth is what the glass shows now. Error: SHOT_TOO_EARLY. */
  begin(): void {
    const { targets, limits } = this.#setup.scenario;
    this.#shownTargets = this.#targetsOnGlass();
    this.#truth = findTruth(
      this.#aim,
      this.#setup.light.spotRadiusDots,
      this.#shownTargets,
      targets.marginDots,
      limits,
    );
    this.#warnOfSmallTargets(this.#shownTargets);
    this.#warnOfLateGlass();
    this.lookFor(aimedTargetOf(this.#truth));
  }

  /** Look for the flash of this target from now on, as `begin` does for that of the truth; nothing is judged. */
  lookFor(target: number): void {
    this.#aimedTarget = target;
    const { newest } = this.#setup.history;
    this.#before = copyOf(this.#setup.history.get(newest - 1) ?? this.#setup.history.get(newest)!);
  }

  /** An event of the console's trace. The light path must have been asked up to it when a picture begins. */
  put(event: TraceEvent): void {
    switch (event.kind) {
      case 'vblank':
        this.#pictureDone();
        break;
      case 'port-read':
        if (this.#setup.scenario.ports[event.port - 1] === 'light sensor' && this.#isOpenAt(event.tick))
          this.#reads.push(event.tick);
        break;
      case 'write':
        if (this.#setup.probes.saidOn === 'write') this.#hear(event.tick, event.value);
        break;
      case 'fetch':
        if (this.#setup.probes.saidOn === 'fetch') this.#hear(event.tick, 0);
        break;
      default:
    }
  }

  /** Reads of a loop that the console skipped, each as `put` would take it. */
  putPortReads({ port, tick, step, count }: PortReads): void {
    if (this.#setup.scenario.ports[port - 1] !== 'light sensor') return;
    for (let k = 0; k < count; k++) {
      if (this.#isOpenAt(tick + k * step)) this.#reads.push(tick + k * step);
    }
  }

  /** Judge, when the console has run to the deadline and the light path has been asked up to it. Errors: SAID_RANGE, BOX_MISMATCH. */
  result(): ShotResult {
    this.#checkBox();
    const said = this.#said();
    const { deadlineTick } = this;
    const reads = this.#reads.filter((tick) => tick <= Math.min(deadlineTick, this.#heard[0]?.tick ?? deadlineTick));
    return {
      shot: this.#setup.shot,
      aim: this.#aim,
      truth: this.#truth!,
      said,
      saidTwice: this.#heard.length > 1,
      judgement: judge(this.#truth!, said),
      ticks: this.#instants(reads),
      reads,
      flips: this.#setup.light.flips.filter((tick) => tick <= deadlineTick),
      shownTargets: this.#shownTargets,
      warnings: this.#warnings,
    };
  }

  save(): ShotWatchState {
    return {
      truth: this.#truth ?? null,
      shownTargets: this.#shownTargets,
      warnings: [...this.#warnings],
      flash: this.#flash ?? null,
      aimedTarget: this.#aimedTarget,
      before: this.#before === undefined ? null : copyOf(this.#before),
      mismatch: this.#mismatch ?? null,
      otherLight: this.#otherLight,
      heard: [...this.#heard],
      reads: Float64Array.from(this.#reads),
    };
  }

  load(state: ShotWatchState): void {
    this.#truth = state.truth ?? undefined;
    this.#shownTargets = state.shownTargets;
    this.#warnings.splice(0, Number.POSITIVE_INFINITY, ...state.warnings);
    this.#flash = state.flash ?? undefined;
    this.#aimedTarget = state.aimedTarget;
    this.#before = state.before ?? undefined;
    this.#mismatch = state.mismatch ?? undefined;
    this.#otherLight = state.otherLight;
    this.#heard.splice(0, Number.POSITIVE_INFINITY, ...state.heard);
    this.#reads.length = 0;
    for (const tick of state.reads) this.#reads.push(tick);
  }

  #isOpenAt(tick: number): boolean {
    return tick >= this.triggerTick && tick <= this.deadlineTick && this.#heard.length === 0;
  }

  /** What the glass showed at the aim's row when the trigger was pulled. */
  #targetsOnGlass(): readonly TargetRectangle[] {
    const index = this.#setup.light.pictureShownAt(this.triggerTick);
    if (index < 0) throw this.#tooEarly();
    return this.#setup.history.get(index)?.targets ?? [];
  }

  #tooEarly(): LatelightError {
    const earliest = this.#setup.light.latencyBoundTicks + ticksPerFrame(this.#setup.timing);
    const ms = (ticks: number): number => Math.ceil(ticksToMs(this.#setup.timing, ticks));
    return new LatelightError('SHOT_TOO_EARLY', {
      found: Number(ticksToMs(this.#setup.timing, this.triggerTick).toFixed(3)),
      expected: ms(earliest),
    });
  }

  /** By the console's own picture the aim is on a target that the glass does not show there yet. */
  #warnOfLateGlass(): void {
    const newest = this.#setup.history.get(this.#setup.history.newest)?.targets ?? [];
    const { targets, limits } = this.#setup.scenario;
    const truth = findTruth(this.#aim, this.#setup.light.spotRadiusDots, newest, targets.marginDots, limits);
    if (this.#truth?.kind !== 'nothing' || truth.kind !== 'target') return;
    this.#warnings.push(
      `the console already has target ${truth.target} at the aim, but the glass did not show it there when the trigger was pulled. Shoot later to aim at it`,
    );
  }

  #warnOfSmallTargets(targets: readonly TargetRectangle[]): void {
    const { marginDots } = this.#setup.scenario.targets;
    for (let k = 0; k < targets.length; k++) {
      const target = targets[k]!;
      if (!target.isLive) continue;
      const truth = findTruth(
        centreOf(target),
        this.#setup.light.spotRadiusDots,
        [target],
        marginDots,
        this.#setup.scenario.limits,
      );
      if (truth.kind !== 'target') {
        this.#warnings.push(
          `target ${k} is smaller than the spot: even at its centre the share is ${(truth.shares[0] ?? 0).toFixed(3)}`,
        );
      }
    }
  }

  /** The picture in progress is complete: is it the flash, or what comes after it? */
  #pictureDone(): void {
    const pair = pairAt(this.#setup.history, this.#setup.history.newest);
    const target = this.#aimedTarget;
    if (pair === undefined || target < 0) return;
    const [picture, previous] = pair;
    if (this.#flash !== undefined) {
      if (this.#otherLight < 0 && this.#finder.isSpotBrighter(picture, previous)) this.#otherLight = picture.index;
      return;
    }
    const at = picture.targets[target];
    if (at === undefined) return;
    const { marginDots } = this.#setup.scenario.targets;
    const sighting = this.#finder.sight(picture, previous, this.#before, at, marginDots);
    if (sighting.kind === 'other') this.#mismatch ??= sighting;
    if (sighting.kind !== 'flash') return;
    this.#flash = this.#finder.firstDot(picture, previous, at, marginDots, this.triggerTick);
  }

  /**
   * A box was seen, but never where target and margin say. Nothing to refuse where the program said nothing: it may not have
   * flashed for this shot at all, and what became bright is the scene, such as a target that the shot before has hit.
   * Error: BOX_MISMATCH.
   */
  #checkBox(): void {
    if (this.#flash !== undefined || this.#mismatch === undefined || this.#truth?.kind !== 'target') return;
    if (!this.isAnswered) return;
    const { found, expected } = this.#mismatch;
    throw new LatelightError('BOX_MISMATCH', { found: describe(found), expected: describe(expected) });
  }

  /** The program may have said something. The first write of a read-modify-write instruction is none: the second counts. */
  #hear(tick: number, value: number): void {
    if (tick < this.triggerTick || tick > this.deadlineTick) return;
    const { saidOn, saidAt, said } = this.#setup.probes;
    // An expression that reads the address sees what is being written.
    const peek =
      saidOn === 'write'
        ? (address: number) => (address === saidAt ? value : this.#setup.peek(address))
        : this.#setup.peek;
    const heard = { tick, says: said(peek, value) };
    const last = this.#heard[this.#heard.length - 1];
    if (saidOn === 'write' && last !== undefined && tick - last.tick === this.#setup.timing.cpuDivider)
      this.#heard.pop();
    this.#heard.push(heard);
  }

  /** What counts is the first thing said. Error: SAID_RANGE. */
  #said(): Said {
    const [first] = this.#heard;
    if (first === undefined) return { kind: 'nothing' };
    const { count } = this.#setup.scenario.targets;
    if (!Number.isInteger(first.says) || first.says < -1 || first.says >= count) {
      throw new LatelightError('SAID_RANGE', { found: first.says, allowed: `-1 for none, or 0 to ${count - 1}` });
    }
    return first.says < 0 ? { kind: 'none' } : { kind: 'target', target: first.says };
  }

  #instants(reads: readonly number[]): ShotTicks {
    const flash = this.#flash;
    const arrival =
      flash === undefined ? Number.POSITIVE_INFINITY : this.#setup.light.rowTick(flash.pictureIndex, flash.y, flash.x);
    const end = Math.min(this.deadlineTick, this.#otherLightTick() - 1);
    const crossing = firstLitFlip(this.#setup.light.flips, arrival, end);
    const decision = this.#heard[0]?.tick ?? null;
    return {
      trigger: this.triggerTick,
      flashOnWire: flash !== undefined && flash.wireTick <= this.deadlineTick ? flash.wireTick : null,
      lightAtSpot: arrival <= this.deadlineTick ? arrival : null,
      crossing,
      firstLitRead: reads.find((tick) => isLitAt(this.#setup.light.flips, tick)) ?? null,
      lastRead: reads[reads.length - 1] ?? null,
      decision,
      deadline: this.deadlineTick,
    };
  }

  /** When the panel begins to show the first picture after the flash that makes the spot brighter. */
  #otherLightTick(): number {
    if (this.#otherLight < 0) return Number.POSITIVE_INFINITY;
    return this.#setup.light.rowTick(this.#otherLight, this.#finder.firstSpotLine, 0);
  }
}

/** The first flip to lit in [from, to]: flips alternate and the first of all is to lit. */
function firstLitFlip(flips: readonly number[], from: number, to: number): number | null {
  for (let i = 0; i < flips.length; i += 2) if (flips[i]! >= from) return flips[i]! <= to ? flips[i]! : null;
  return null;
}

const copyOf = (picture: Picture): Picture => ({ ...picture, codes: picture.codes.slice() });

const describe = ({ x, y, width, height }: Rectangle): string => `${width} x ${height} dots at (${x}, ${y})`;
