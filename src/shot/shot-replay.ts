import { type AimMove, historyCapacity, LightPath, type LightPathState } from '../light/light-path.ts';
import type { Aim, SpotWeights } from '../light/optics/optics.ts';
import { sourcePresentation } from '../light/signal/source.ts';
import { type Picture, PictureHistory } from '../picture/picture.ts';
import { LUMINANCE_WEIGHTS, weightedLight } from '../references/palette.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH, type Timing, ticksPerFrame, ticksPerLine } from '../units/timing.ts';
import { latestOf } from './latest.ts';
import { latticeTicks, lightExtremes, type TickRange } from './light-extremes.ts';
import type { LightPathSettings } from './light-path-settings.ts';
import { PictureNaming } from './picture-names.ts';
import { msOfTick, placeAt, type ShotClock, tickOfMs } from './shot-clock.ts';
import {
  type LanesDetail,
  litStretches,
  looks,
  type PictureOnWire,
  picturesWithin,
  rowsOnWire,
  type SaidAt,
  type ShotLanes,
  type Stretch,
  saidOf,
} from './shot-lanes.ts';
import type { ShotResult } from './shot-watch.ts';
import { composedPicture, type StillPicture } from './still-picture.ts';

/** The light as it stood at an instant of the shot, and where the aim went after it. */
export interface ReplayStart {
  readonly state: LightPathState;
  readonly moves: readonly AimMove[];
}

export interface ShotReplaySetup {
  readonly settings: LightPathSettings;
  readonly timing: Timing;
  /** It is copied. */
  readonly history: PictureHistory;
  /** Instants from which the shot can be played again, the trigger first. */
  readonly starts: readonly ReplayStart[];
  readonly result: ShotResult;
  readonly reads: { readonly ticks: Float64Array; readonly pcs: Uint16Array };
  /** Up to here console and light have run. */
  readonly endTick: number;
  readonly cpuPhaseTicks: number;
  readonly marginDots: number;
}

/** What console and glass show at an instant. */
export interface StillShot {
  readonly ms: number;
  readonly frame: number | null;
  readonly scanline: number | null;
  readonly dot: number | null;
  /** What the console has sent by then: above the beam the picture in progress, below it the one before. */
  readonly sent: StillPicture;
  /** What the panel has begun to show by then, dot by dot; its response is left out. */
  readonly shown: StillPicture;
}

const COLUMNS = 800;
/** Points of time looked at in a column, beside those at which a beam passes the spot. */
const POINTS = 4;
/** Frames drawn before the trigger. */
const LEAD_FRAMES = 1;
/** Instants from which a part of the shot is played again. */
const CHECKPOINTS = 24;
/** Every n-th dot of the spot is looked at when the beam has passed it. */
const BEAM_DOTS = 3;

/**
 * One finished shot, kept so that a ruler can look at any part of it again. Memory: copies of the pictures from which its
 * light comes, at most as many as the session keeps (123 kB each, 12 MB for 96 of them), and 24 states of the light path.
 */
export class ShotReplay {
  readonly clock: ShotClock;
  readonly #setup: ShotReplaySetup;
  readonly #pictures: readonly Picture[];
  readonly #path: LightPath;
  readonly #states: LightPathState[] = [];
  readonly #range: TickRange;
  readonly #naming: PictureNaming;
  /** The aim from each tick on. */
  readonly #aims: readonly AimMove[];

  /** Error: INTERNAL if the history no longer keeps what the latest of the starts needs. */
  constructor(setup: ShotReplaySetup) {
    const { settings, timing, result, endTick, cpuPhaseTicks, marginDots } = setup;
    this.#setup = setup;
    const start = this.#firstStart();
    const history = this.#copiedHistory(start.state.tick);
    this.#pictures = picturesOf(history);
    this.#aims = [{ tick: Number.NEGATIVE_INFINITY, aim: result.aim }, ...setup.starts[0]!.moves];
    this.#path = new LightPath({ settings, timing, history, aim: result.aim });
    this.#path.load(start.state);
    this.#path.moveAims(start.moves);
    const from = Math.max(result.ticks.trigger - LEAD_FRAMES * ticksPerFrame(timing), start.state.tick);
    this.#range = { from, to: endTick };
    this.#naming = new PictureNaming(timing, marginDots);
    this.clock = {
      timing: timing.id,
      triggerTick: result.ticks.trigger,
      cpuPhaseTicks,
      firstFrame: this.#pictures[0]?.index ?? 0,
      frameTicks: this.#pictures.map(({ lineZeroTick }) => lineZeroTick),
    };
    this.#keepStates();
  }

  /** The earliest start whose light comes from pictures that are still kept. */
  #firstStart(): ReplayStart {
    const { history, starts } = this.#setup;
    const oldest = history.get(Math.max(0, history.newest - history.capacity + 1));
    const isWhole = oldest === undefined || oldest.index === 0;
    const earliest = isWhole ? Number.NEGATIVE_INFINITY : oldest.lineZeroTick + this.#reachBackTicks();
    return starts.find(({ state }) => state.tick >= earliest) ?? starts[starts.length - 1]!;
  }

  /** How long after a picture's line 0 its light may still come. */
  #reachBackTicks(): number {
    const { settings, timing } = this.#setup;
    return historyCapacity(settings, timing) * ticksPerFrame(timing);
  }

  /** A copy of the pictures that matter from a tick on. */
  #copiedHistory(fromTick: number): PictureHistory {
    const { history, settings, timing } = this.#setup;
    history.drawer?.drawDue();
    const { newest, pictures } = history.save(PICTURE_WIDTH * PICTURE_HEIGHT);
    const since = pictures.filter(({ lineZeroTick }) => lineZeroTick > fromTick).length;
    const copy = new PictureHistory(Math.min(history.capacity, historyCapacity(settings, timing, true) + since));
    copy.load({ newest, pictures: pictures.slice(-copy.capacity) });
    return copy;
  }

  #keepStates(): void {
    const { from, to } = this.#range;
    this.#states.push(this.#path.save());
    for (let k = 1; k < CHECKPOINTS; k++) {
      this.#path.bitAt(from + Math.floor(((to - from) * k) / CHECKPOINTS));
      this.#states.push(this.#path.save());
    }
  }

  /** Everything that happened to the light of the shot. */
  lanes(): ShotLanes {
    const { result, reads } = this.#setup;
    const range = this.#range;
    const ms = (tick: number): number => msOfTick(this.clock, tick);
    const stretch = ({ from, to }: TickRange): Stretch => ({ fromMs: ms(from), toMs: ms(to) });
    const codes = [...new Set(reads.pcs)];
    const readsMs = reads.ticks.map(ms);
    return {
      ...this.#detailOf(range, COLUMNS),
      lit: litStretches(result.flips, range).map(stretch),
      looking: looks(result.reads.map(ms)),
      reads: readsMs,
      readCodes: Uint16Array.from(reads.pcs, (pc) => codes.indexOf(pc)),
      codes: codes.map((pc) => `$${pc.toString(16).toUpperCase().padStart(4, '0')}`),
      pictures: this.#picturesOnWire(),
      wire: this.#wire(),
      said: this.#said(),
      clock: this.clock,
    };
  }

  #picturesOnWire(): PictureOnWire[] {
    const { timing, result } = this.#setup;
    const { flashOnWire } = result.ticks;
    // What had only begun when the shot ended holds dots of an older picture.
    const isSent = ({ lineZeroTick }: Picture): boolean =>
      lineZeroTick + PICTURE_HEIGHT * ticksPerLine(timing) <= this.#setup.endTick;
    return picturesWithin(this.#pictures.filter(isSent), timing, this.#range).map(
      ({ picture, range: { from, to } }) => ({
        fromMs: msOfTick(this.clock, from),
        toMs: msOfTick(this.clock, to),
        isFlash: flashOnWire !== null && flashOnWire >= from && flashOnWire < to,
        name: this.#naming.nameOf(picture),
        frame: picture.index,
      }),
    );
  }

  #wire(): Float64Array {
    const { timing } = this.#setup;
    const light = weightedLight(timing.swapsRedGreenEmphasis, LUMINANCE_WEIGHTS);
    const spots = new Map<Aim, SpotWeights>();
    const rows = picturesWithin(this.#pictures, timing, this.#range).flatMap(({ picture }) => {
      const aim = this.#aimAt(picture.lineZeroTick);
      if (!spots.has(aim)) spots.set(aim, this.#path.spotAt(aim));
      return rowsOnWire(picture, spots.get(aim)!, light, timing);
    });
    const seen = rows.filter(({ from, to }) => from >= this.#range.from && to <= this.#range.to);
    return Float64Array.from(
      seen.flatMap(({ from, to, level }) => [msOfTick(this.clock, from), msOfTick(this.clock, to), level]),
    );
  }

  #said(): SaidAt | null {
    const { result } = this.#setup;
    const said = saidOf(result);
    return said && { ...said, ms: msOfTick(this.clock, result.ticks.decision!) };
  }

  #aimAt(tick: number): Aim {
    return latestOf(this.#aims, (move) => move.tick <= tick)!.aim;
  }

  /**
   * Least and largest of light and sensor by column in a part of the shot; columns are as wide as a tick at least. Looked
   * at are a lattice of at least four points a column and the ticks at which a beam has passed the spot's dots (every third
   * of them): a shorter pulse than that may be drawn lower than it was. The lattice of the whole is part of every finer one.
   */
  detail(fromMs: number, toMs: number, columns: number): LanesDetail {
    const { from, to } = this.#range;
    const begin = Math.max(from, Math.min(to - 1, tickOfMs(this.clock, fromMs)));
    const end = Math.max(begin + 1, Math.min(to, tickOfMs(this.clock, toMs)));
    return this.#detailOf({ from: begin, to: end }, Math.max(1, Math.min(columns, end - begin)));
  }

  #detailOf(range: TickRange, columns: number): LanesDetail {
    const state = latestOf(this.#states, ({ tick }) => tick <= range.from) ?? this.#states[0]!;
    this.#path.load(state);
    const lattice = latticeTicks(range, this.#range.from, this.#latticeStep(range, columns));
    const thresholdCdM2 = Number(this.#setup.settings.sensor['thresholdCdM2'] ?? 0);
    const ticks = { lattice, beam: this.#beamTicks(range) };
    const extremes = lightExtremes(this.#path, ticks, range, columns, thresholdCdM2);
    return { fromMs: msOfTick(this.clock, range.from), toMs: msOfTick(this.clock, range.to), ...extremes };
  }

  /** Steps are powers of two, so that one lattice lies in the other. */
  #latticeStep({ from, to }: TickRange, columns: number): number {
    const whole = this.#range.to - this.#range.from;
    let step = 1;
    while (2 * step * COLUMNS * POINTS <= whole) step *= 2;
    while (step > 1 && step * columns * POINTS > to - from) step /= 2;
    return step;
  }

  /** When the panel has lit dots of the spot, and the ticks before it begins a row. */
  #beamTicks({ from, to }: TickRange): Float64Array {
    const { timing } = this.#setup;
    const ticks: number[] = [];
    for (const { index } of this.#pictures) {
      if (this.#path.presentationOf(index) === undefined) continue;
      const [first, last] = [this.#path.rowTick(index, 0), this.#path.rowTick(index, PICTURE_HEIGHT - 1)];
      if (last + ticksPerLine(timing) < from || first > to) continue;
      const { firstRow, rowCount, firstDot, dotCount } = this.#path.spotAt(this.#aimAt(first));
      for (let row = firstRow; row < firstRow + rowCount; row++) {
        ticks.push(this.#path.rowTick(index, row, firstDot) - 1);
        for (let dot = 0; dot < dotCount; dot += BEAM_DOTS) ticks.push(this.#path.rowTick(index, row, firstDot + dot));
      }
    }
    const within = new Set(ticks.filter((tick) => tick >= from && tick < to));
    return Float64Array.from(within).sort();
  }

  /**
   * What the console has sent and the panel has begun to show by a time, dot by dot: a stage or a panel that keeps whole
   * pictures is seen to do so. Before the first picture that is kept, all codes are black.
   */
  still(ms: number): StillShot {
    const { tick, frame, scanline, dot } = placeAt(this.clock, ms);
    const { timing } = this.#setup;
    return {
      ms: msOfTick(this.clock, tick),
      frame,
      scanline,
      dot,
      sent: composedPicture(this.#pictures, tick, (picture, line, at) => {
        const { tTop, tPerRow } = sourcePresentation(picture, timing);
        return tTop + line * tPerRow + at * timing.dotDivider;
      }),
      shown: composedPicture(this.#pictures, tick, ({ index }, line, at) =>
        this.#path.presentationOf(index) === undefined ? Number.POSITIVE_INFINITY : this.#path.rowTick(index, line, at),
      ),
    };
  }
}

/** The pictures kept, oldest first. */
function picturesOf(history: PictureHistory): Picture[] {
  const pictures: Picture[] = [];
  for (let index = Math.max(0, history.newest - history.capacity + 1); index <= history.newest; index++) {
    const picture = history.get(index);
    if (picture !== undefined) pictures.push(picture);
  }
  return pictures;
}
