import type { Console } from '../console/console.ts';
import type { PortDevice, Surroundings } from '../console/ports.ts';
import { ReferenceConsole } from '../console/reference/reference-console.ts';
import { LatelightError } from '../errors/latelight-error.ts';
import { historyCapacity, LightPath } from '../light/light-path.ts';
import { PictureHistory, type TargetRectangle } from '../picture/picture.ts';
import { type CartridgeImage, parseImage } from '../program/image.ts';
import type { Symbols } from '../program/labels.ts';
import { parseLabels } from '../program/labels.ts';
import type { TraceEvent, TraceSink } from '../trace/trace.ts';
import { msToTicks, TIMINGS, type Timing, ticksPerFrame, ticksToMs } from '../units/timing.ts';
import { type Flash, FlashFinder, type Rectangle } from './flash.ts';
import { buttonsAt } from './inputs.ts';
import { type Judgement, judge, type Said } from './judgement.ts';
import { compileProbes, type Probes } from './probes.ts';
import type { Scenario, ShotPlan } from './scenario.ts';
import { type Aim, findTruth, grown, type Truth } from './truth.ts';

/** A scenario with its files read: ready to run. */
export interface PreparedScenario {
  readonly scenario: Scenario;
  readonly image: CartridgeImage;
  readonly timing: Timing;
  readonly probes: Probes;
}

/** The files that a scenario names. */
export interface ScenarioFiles {
  readonly image: Uint8Array;
  readonly labels?: string;
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

const SAFETY_FRAMES = 60;
const BOX_TOLERANCE_DOTS = 2;

/** Check a scenario against its files. Errors: IMAGE_*, LABELS_INVALID, EXPRESSION_*, PARAM_RANGE. */
export function prepareScenario(scenario: Scenario, files: ScenarioFiles): PreparedScenario {
  const image = parseImage(files.image);
  const labels: Symbols = files.labels === undefined ? new Map() : parseLabels(files.labels);
  const symbols = new Map([...labels, ...Object.entries(scenario.symbols)]);
  const id = scenario.timing === 'image' ? (image.timing === 'both' ? '60hz' : image.timing) : scenario.timing;
  return { scenario, image, timing: TIMINGS[id], probes: compileProbes(scenario, symbols) };
}

/**
 * Run one shot of the scenario from power-on to its deadline on the reference engine.
 * Errors: PROGRAM_JAMMED, SAID_RANGE, BOX_MISMATCH, PARAM_RANGE, LIGHT_PATH.
 */
export function runShot(prepared: PreparedScenario, shot: number): ShotResult {
  return new ShotRun(prepared, shot).run();
}

class ShotRun implements TraceSink, Surroundings {
  readonly #scenario: Scenario;
  readonly #timing: Timing;
  readonly #probes: Probes;
  readonly #shot: number;
  readonly #plan: ShotPlan;
  readonly #history: PictureHistory;
  readonly #light: LightPath;
  readonly #finder: FlashFinder;
  readonly #console: Console;
  readonly #gunPort: 1 | 2 | undefined;
  readonly #triggerTick: number;
  readonly #releaseTick: number;
  readonly #deadline: number;
  readonly #peek = (address: number): number => this.#console.peek(address);
  readonly #reads: number[] = [];
  readonly #warnings: string[] = [];
  #flash: Flash | undefined;
  #said: Said = { kind: 'nothing' };
  #decisionTick: number | null = null;
  #saidTwice = false;

  constructor({ scenario, image, timing, probes }: PreparedScenario, shot: number) {
    const plan = scenario.shots[shot];
    if (plan === undefined) {
      throw new LatelightError('PARAM_RANGE', {
        name: 'shot',
        found: shot,
        allowed: `0 to ${scenario.shots.length - 1}`,
      });
    }
    this.#scenario = scenario;
    this.#timing = timing;
    this.#probes = probes;
    this.#shot = shot;
    this.#plan = plan;
    this.#gunPort = gunPortOf(scenario.ports);
    this.#history = new PictureHistory(historyCapacity(scenario.lightPath, timing));
    this.#light = new LightPath({ settings: scenario.lightPath, timing, history: this.#history, aim: plan.aim });
    this.#finder = new FlashFinder(timing, plan.aim, this.#light.spotRadiusDots);
    this.#triggerTick = msToTicks(timing, plan.atMs);
    this.#releaseTick = this.#triggerTick + msToTicks(timing, plan.squeezeMs);
    this.#deadline = this.#triggerTick + this.#deadlineFrames() * ticksPerFrame(timing);
    this.#console = new ReferenceConsole({
      timing,
      image,
      devices: scenario.ports,
      surroundings: this,
      history: this.#history,
      trace: this,
      request: {
        fetches: probes.saidOn === 'fetch' ? [probes.saidAt] : [],
        writes: probes.saidOn === 'write' ? [probes.saidAt] : [],
        reads: [],
      },
      alignment: scenario.alignment,
      hooks: { targetsForNextPicture: () => probes.targets(this.#peek) },
    });
  }

  run(): ShotResult {
    this.#console.runUntil(this.#triggerTick);
    const shownTargets = this.#shownTargets();
    const truth = findTruth(
      this.#plan.aim,
      this.#light.spotRadiusDots,
      shownTargets,
      this.#scenario.targets.marginDots,
      this.#scenario.limits,
    );
    this.#warnOfSmallTargets(shownTargets);
    this.#console.runUntil(this.#deadline);
    this.#light.bitAt(this.#deadline); // brings the list of flips up to the deadline
    return {
      shot: this.#shot,
      aim: this.#plan.aim,
      truth,
      said: this.#said,
      saidTwice: this.#saidTwice,
      judgement: judge(truth, this.#said),
      ticks: this.#instants(),
      reads: this.#reads,
      flips: this.#light.flips.filter((tick) => tick <= this.#deadline),
      shownTargets,
      warnings: this.#warnings,
    };
  }

  put(event: TraceEvent): void {
    switch (event.kind) {
      case 'vblank':
        // Once a frame, so that no picture is forgotten before the panel has shown it, whether or not the program looks.
        this.#light.bitAt(event.tick);
        this.#pictureDone();
        break;
      case 'port-read':
        if (event.port === this.#gunPort && this.#isOpenAt(event.tick)) this.#reads.push(event.tick);
        break;
      case 'write':
        if (this.#probes.saidOn === 'write') this.#hear(event.tick, event.value);
        break;
      case 'fetch':
        if (this.#probes.saidOn === 'fetch') this.#hear(event.tick, 0);
        break;
      case 'jam':
        throw new LatelightError('PROGRAM_JAMMED', {
          opcode: hex(event.opcode, 2),
          address: hex(event.address, 4),
          ms: ticksToMs(this.#timing, event.tick).toFixed(3),
        });
      default:
    }
  }

  readLight(_port: 1 | 2, tick: number): 0 | 1 {
    return this.#light.bitAt(tick);
  }

  isTriggerClosed(_port: 1 | 2, tick: number): boolean {
    return tick >= this.#triggerTick && tick < this.#releaseTick;
  }

  buttons(port: 1 | 2, tick: number): number {
    return buttonsAt(this.#scenario.pads, port, ticksToMs(this.#timing, tick));
  }

  /** Frames from the trigger to the deadline: declared, or the light path's latency and a second more. */
  #deadlineFrames(): number {
    return (
      this.#scenario.deadlineFrames ??
      Math.ceil(this.#light.latencyBoundTicks / ticksPerFrame(this.#timing)) + SAFETY_FRAMES
    );
  }

  #isOpenAt(tick: number): boolean {
    return tick >= this.#triggerTick && tick <= this.#deadline && this.#decisionTick === null;
  }

  /** What the glass showed at the aim's row when the trigger was pulled. */
  #shownTargets(): readonly TargetRectangle[] {
    const line = Math.min(239, Math.max(0, Math.floor(this.#plan.aim.y)));
    const index = this.#light.pictureShownAt(this.#triggerTick, line);
    return index < 0 ? [] : (this.#history.get(index)?.targets ?? []);
  }

  #warnOfSmallTargets(targets: readonly TargetRectangle[]): void {
    const { marginDots } = this.#scenario.targets;
    for (let k = 0; k < targets.length; k++) {
      const target = targets[k]!;
      if (!target.isLive) continue;
      const centre = { x: target.x + target.width / 2, y: target.y + target.height / 2 };
      const truth = findTruth(centre, this.#light.spotRadiusDots, [target], marginDots, this.#scenario.limits);
      if (truth.kind !== 'target') {
        this.#warnings.push(
          `target ${k} is smaller than the spot: even at its centre the share is ${(truth.shares[0] ?? 0).toFixed(3)}`,
        );
      }
    }
  }

  #pictureDone(): void {
    const index = this.#history.newest;
    const picture = this.#history.get(index);
    if (this.#flash !== undefined || picture === undefined || picture.lineZeroTick < this.#triggerTick) return;
    if (picture.lineZeroTick > this.#deadline) return;
    this.#flash = this.#finder.inPicture(this.#history, index);
    if (this.#flash !== undefined) this.#checkBox(index);
  }

  /** In the flash picture the box must stand where target and margin say. */
  #checkBox(index: number): void {
    const picture = this.#history.get(index)!;
    const { marginDots } = this.#scenario.targets;
    const target = picture.targets.find((at) => at.isLive && containsPoint(grown(at, marginDots), this.#plan.aim));
    if (target === undefined) return;
    const expected = grown(target, marginDots);
    const found = this.#finder.brightRectangle(picture, grown({ ...target }, marginDots + 8));
    if (found !== undefined && isClose(found, expected)) return;
    throw new LatelightError('BOX_MISMATCH', {
      found: found === undefined ? 'nowhere' : describe(found),
      expected: describe(expected),
    });
  }

  #hear(tick: number, value: number): void {
    if (tick < this.#triggerTick || tick > this.#deadline) return;
    if (this.#decisionTick !== null) {
      this.#saidTwice = true;
      return;
    }
    const target = this.#probes.said(this.#peek, value);
    const { count } = this.#scenario.targets;
    if (!Number.isInteger(target) || target < -1 || target >= count) {
      throw new LatelightError('SAID_RANGE', { found: target, allowed: `-1 for none, or 0 to ${count - 1}` });
    }
    this.#decisionTick = tick;
    this.#said = target < 0 ? { kind: 'none' } : { kind: 'target', target };
  }

  #instants(): ShotTicks {
    const flash = this.#flash;
    const lightAtSpot = flash === undefined ? null : this.#light.rowTick(flash.pictureIndex, flash.y, flash.x);
    const crossing = lightAtSpot === null ? undefined : firstLitFlip(this.#light.flips, lightAtSpot);
    return {
      trigger: this.#triggerTick,
      flashOnWire: flash?.wireTick ?? null,
      lightAtSpot,
      crossing: crossing !== undefined && crossing <= this.#deadline ? crossing : null,
      lastRead: this.#reads[this.#reads.length - 1] ?? null,
      decision: this.#decisionTick,
      deadline: this.#deadline,
    };
  }
}

/** The first flip to lit at or after `from`: flips alternate and the first of all is to lit. */
function firstLitFlip(flips: readonly number[], from: number): number | undefined {
  for (let i = 0; i < flips.length; i += 2) if (flips[i]! >= from) return flips[i];
  return undefined;
}

function gunPortOf(ports: readonly [PortDevice, PortDevice]): 1 | 2 | undefined {
  if (ports[1] === 'light sensor') return 2;
  return ports[0] === 'light sensor' ? 1 : undefined;
}

const containsPoint = (area: Rectangle, { x, y }: Aim): boolean =>
  x >= area.x && x < area.x + area.width && y >= area.y && y < area.y + area.height;

const isClose = (a: Rectangle, b: Rectangle): boolean =>
  Math.max(
    Math.abs(a.x - b.x),
    Math.abs(a.y - b.y),
    Math.abs(a.x + a.width - b.x - b.width),
    Math.abs(a.y + a.height - b.y - b.height),
  ) <= BOX_TOLERANCE_DOTS;

const describe = ({ x, y, width, height }: Rectangle): string => `${width} x ${height} dots at (${x}, ${y})`;

const hex = (value: number, digits: number): string => `$${value.toString(16).toUpperCase().padStart(digits, '0')}`;
