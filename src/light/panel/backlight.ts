import type { Timing } from '../../units/timing.ts';
import { restoreNumber, type SavedState } from '../saved-state.ts';

/** Pulse-width modulation of a backlight; `frequencyHz` 0 or `duty01` 1 = steady light. */
export interface PulseWidth {
  readonly frequencyHz: number;
  readonly duty01: number;
  readonly phase01: number;
}

/**
 * A backlight that is on while frac(t f + phase) < duty, t = time since power-on.
 *
 * Edges are counted from that of cycle 0: edge 2k switches on at (k - phase) / f, edge 2k + 1 off at (k + duty - phase) / f;
 * each has the first whole tick at or after that time, computed from its count, so that a long run adds up no rounding.
 */
export class Backlight {
  readonly isSteady: boolean;
  readonly #ticksPerCycle: number;
  readonly #duty01: number;
  readonly #phase01: number;
  /** Count of the next edge. */
  #edge: number;
  #edgeTick: number;

  /** As it stands at `startTick`: the next edge is the first one after it. */
  constructor({ frequencyHz, duty01, phase01 }: PulseWidth, timing: Timing, startTick = 0) {
    this.isSteady = frequencyHz === 0 || duty01 === 1;
    this.#ticksPerCycle = timing.masterNumerator / timing.masterDenominator / frequencyHz;
    this.#duty01 = duty01;
    this.#phase01 = phase01 - Math.floor(phase01);
    this.#edge = this.isSteady || this.#phase01 < duty01 ? 1 : 2;
    this.#edgeTick = this.#tickOf(this.#edge);
    if (this.isSteady || startTick === 0) return;
    // A whole cycle has two edges: jump to just before the tick, then go on edge by edge.
    this.#edge += 2 * Math.max(0, Math.floor(startTick / this.#ticksPerCycle) - 2);
    this.#edgeTick = this.#tickOf(this.#edge);
    while (this.#edgeTick <= startTick) this.pass();
  }

  get isOn(): boolean {
    return this.#edge % 2 === 1;
  }

  /** Tick of the next edge, Infinity if the light is steady. */
  get edgeTick(): number {
    return this.#edgeTick;
  }

  /** Go past the next edge. */
  pass(): void {
    this.#edge++;
    this.#edgeTick = this.#tickOf(this.#edge);
  }

  #tickOf(edge: number): number {
    if (this.isSteady) return Number.POSITIVE_INFINITY;
    const cycles = Math.floor(edge / 2) + (edge % 2) * this.#duty01 - this.#phase01;
    return Math.ceil(cycles * this.#ticksPerCycle);
  }

  save(): SavedState {
    return { edge: this.#edge };
  }

  load(state: SavedState): void {
    this.#edge = restoreNumber(state, 'edge');
    this.#edgeTick = this.#tickOf(this.#edge);
  }
}
