import { msToTicks, type Timing, ticksPerFrame, ticksToMs } from '../units/timing.ts';
import type { PreparedScenario } from './prepared-scenario.ts';

/** What a pull at no target has brought. */
export type CalibrationOutcome =
  /** The program has written down a delay: so many units of so many processor cycles. */
  | { readonly kind: 'calibrated'; readonly units: number; readonly unitCycles: number; readonly delayMs: number }
  /** It has refused, as this expression of the scenario tells it. */
  | { readonly kind: 'calibration refused'; readonly expression: string };

/** A delay is taken for found when nothing was written to it for so many frames. Our choice; Lamplighter takes up to three to write it. */
const SETTLED_FRAMES = 8;
/** A pull that has brought nothing by then was no calibration, ms. Our choice. */
const LONGEST_MS = 10_000;
const NEVER = Number.NEGATIVE_INFINITY;

/** Hears what a program makes of a pull at a scene without live targets, where its scenario says how it calibrates. */
export class CalibrationWatch {
  readonly #prepared: PreparedScenario;
  readonly #peek: (address: number) => number;
  #pulledTick = NEVER;
  #writtenTick = NEVER;
  /** At the end of some frame since the pull it had not refused: a refusal from now on is one of this pull. */
  #wasClear = false;

  constructor(prepared: PreparedScenario, peek: (address: number) => number) {
    this.#prepared = prepared;
    this.#peek = peek;
  }

  /** The trigger was pulled at no target. */
  begin(tick: number): void {
    if (this.#prepared.scenario.calibration === undefined) return;
    this.#pulledTick = tick;
    this.#writtenTick = NEVER;
    this.#wasClear = !this.#isRefused();
  }

  /** The trigger was pulled again, at a target. */
  end(): void {
    this.#pulledTick = NEVER;
  }

  /** The program has written something, anywhere that is reported. */
  write(address: number, tick: number): void {
    if (placesOf(this.#prepared).includes(cellOf(address))) this.#writtenTick = tick;
  }

  /** A frame is over. Answers what the pull has brought, once. */
  frameDone(tick: number): CalibrationOutcome | undefined {
    const { timing } = this.#prepared;
    if (tick > this.#pulledTick + msToTicks(timing, LONGEST_MS)) return undefined;
    const isRefused = this.#isRefused();
    const isWritten = tick >= this.#writtenTick + SETTLED_FRAMES * ticksPerFrame(timing) && this.#writtenTick !== NEVER;
    if (isRefused ? !this.#wasClear : !isWritten) {
      this.#wasClear ||= !isRefused;
      return undefined;
    }
    this.end();
    return isRefused
      ? { kind: 'calibration refused', expression: this.#prepared.scenario.calibration!.refused! }
      : this.#found(timing);
  }

  #isRefused(): boolean {
    return this.#prepared.probes.refusesCalibration?.(this.#peek) === true;
  }

  #found(timing: Timing): CalibrationOutcome {
    const { unitCycles } = this.#prepared.scenario.calibration!;
    const units = placesOf(this.#prepared).reduceRight((value, place) => 256 * value + this.#peek(place), 0);
    const delayMs = ticksToMs(timing, units * unitCycles * timing.cpuDivider);
    return { kind: 'calibrated', units, unitCycles, delayMs };
  }
}

/** RAM has four addresses a cell. */
export const cellOf = (address: number): number => (address < 0x2000 ? address & 0x7ff : address);

/** Where a program keeps the delay that it calibrated, low byte first; empty where its scenario does not say. */
export function placesOf({ scenario, calibrationAddress }: PreparedScenario): readonly number[] {
  if (scenario.calibration === undefined || calibrationAddress === undefined) return [];
  return Array.from({ length: scenario.calibration.bytes }, (_, i) => cellOf(calibrationAddress + i));
}
