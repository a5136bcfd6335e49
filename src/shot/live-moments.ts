import type { AimMove } from '../light/light-path.ts';
import type { LivePress, LivePull, LiveShot } from './cause/live-observation.ts';
import type { ObservationStart } from './cause/observation.ts';
import { BUTTON_NAMES } from './scenario.ts';

/** A state of the session and the tick up to which the console had run. */
interface Moment {
  readonly tick: number;
  readonly state: ObservationStart;
}

/** What a session keeps of itself so that a shot can be run again from before its trigger. */
export interface KeptShot extends Pick<LiveShot, 'moment' | 'moves' | 'presses' | 'pulls' | 'shot'> {}

/** What a pull does to the trigger's contact: it is closed in [pull.tick, toTick). */
export interface ClosedContact {
  readonly pull: LivePull;
  readonly toTick: number;
}

/** States that are kept in a lead: the more, the less of the time before a shot is run again. Our choice. */
const STATES_A_LEAD = 4;

/**
 * The latest states of a session, and what hand and pad have done since the oldest of them. A shot at any later tick finds
 * one that lies as long before it as a run must begin, and not much longer.
 */
export class LiveMoments {
  readonly #leadTicks: number;
  readonly #take: () => ObservationStart;
  readonly #powerOn: Moment | undefined;
  /** Oldest first. */
  #moments: readonly Moment[];
  /** The state that the shot in flight is run again from. */
  #ofShot: { readonly moment: Moment; readonly pull: LivePull } | undefined;
  #moves: readonly AimMove[] = [];
  #presses: readonly LivePress[] = [];
  #pulls: readonly ClosedContact[] = [];

  /**
   * `take` saves the session as it stands; the first state is taken at once, between two frames. A shot is run again from
   * `leadTicks` before it or earlier; `isPowerOn`: nothing was before the first state, so that it serves the first shots.
   */
  constructor(tick: number, leadTicks: number, isPowerOn: boolean, take: () => ObservationStart) {
    this.#leadTicks = leadTicks;
    this.#take = take;
    this.#moments = [{ tick, state: take() }];
    this.#powerOn = isPowerOn ? this.#moments[0] : undefined;
  }

  /** A frame has been run. */
  frameDone(tick: number): void {
    const latest = this.#moments[this.#moments.length - 1]!;
    if (tick - latest.tick < this.#leadTicks / STATES_A_LEAD) return;
    const before = this.#before(tick - this.#leadTicks);
    const wanted = this.#moments.filter((moment) => before === undefined || moment.tick >= before.tick);
    this.#moments = [...wanted, { tick, state: this.#take() }];
    const first = this.#moments[0]!.tick;
    this.#forget(Math.min(first, this.#ofShot?.moment.tick ?? first));
  }

  /** The latest state that lies not behind a tick. */
  #before(tick: number): Moment | undefined {
    return [...this.#moments].reverse().find((moment) => moment.tick <= tick);
  }

  /** Inputs that were over before a tick. */
  #forget(tick: number): void {
    this.#moves = this.#moves.filter((move) => move.tick >= tick);
    this.#presses = this.#presses.filter((press) => press.toTick > tick);
    this.#pulls = this.#pulls.filter(({ toTick }) => toTick > tick);
  }

  move(move: AimMove): void {
    this.#moves = [...this.#moves, move];
  }

  /** Buttons held on a pad from this tick on, as the pad sends them. */
  hold(port: 1 | 2, held: number, tick: number): void {
    const isOpen = (press: LivePress): boolean => press.port === port && press.toTick === Number.POSITIVE_INFINITY;
    const isHeld = ({ button }: LivePress): boolean => ((held >> BUTTON_NAMES.indexOf(button)) & 1) === 1;
    const open = this.#presses.filter(isOpen).map(({ button }) => button);
    const begun = BUTTON_NAMES.filter((button, bit) => ((held >> bit) & 1) === 1 && !open.includes(button));
    this.#presses = [
      ...this.#presses.map((press) => (isOpen(press) && !isHeld(press) ? { ...press, toTick: tick } : press)),
      ...begun.map((button) => ({ port, button, fromTick: tick, toTick: Number.POSITIVE_INFINITY })),
    ];
  }

  /** The trigger's contact closes, or is closed as the first state is taken. */
  close(contact: ClosedContact): void {
    this.#pulls = [...this.#pulls, contact];
  }

  /** This pull is a shot from now on. */
  begin(pull: LivePull): void {
    const latest = pull.tick - this.#leadTicks;
    const moment = latest <= 0 ? this.#powerOn : this.#before(latest);
    this.#ofShot = moment && { moment, pull };
  }

  /** The shot in flight is over at `endTick`. undefined: it came too soon after the first state. */
  take(endTick: number): KeptShot | undefined {
    const kept = this.#ofShot;
    this.#ofShot = undefined;
    if (kept === undefined) return undefined;
    const { moment, pull } = kept;
    return {
      moment: moment.state,
      moves: this.#moves.filter(({ tick }) => tick >= moment.tick),
      presses: this.#presses
        .filter(({ toTick }) => toTick > moment.tick)
        .map((press) => ({ ...press, toTick: Math.min(press.toTick, endTick) })),
      pulls: this.#pulls
        .filter((earlier) => earlier.pull.tick < pull.tick && earlier.toTick > moment.tick)
        .map((earlier) => earlier.pull),
      shot: pull,
    };
  }
}
