import type { Observation } from './observation.ts';
import type { Stepwise } from './stepwise.ts';
import type { World } from './world.ts';

/** Kinds of causes, one word each. */
export type CauseId =
  | 'jam'
  | 'no-nmi'
  | 'nmi-late'
  | 'wrong-port'
  | 'wrong-polarity'
  | 'trigger-late'
  | 'ninth-sprite'
  | 'light-gone'
  | 'poll-gap'
  | 'off-target'
  | 'box-elsewhere'
  | 'hand-moved'
  | 'threshold-moved'
  | 'miscalibrated'
  | 'still-lit'
  | 'earlier-flash'
  | 'room-light'
  | 'too-dim'
  | 'too-early'
  | 'picture-early'
  | 'slow-panel'
  | 'blind-sensor';

/** A number of a sentence, with its unit. */
export interface Field {
  readonly value: number;
  readonly unit: string;
}

export type Fields = Readonly<Record<string, Field>>;

/** What to change, as data. */
export type Change =
  /** An entry of the scenario, its path written with dots; without `value` the entry is left out. */
  | { readonly in: 'scenario'; readonly path: string; readonly value?: unknown }
  /** A byte of the image as the processor sees it, or of the program's memory. */
  | { readonly in: 'image'; readonly address: number; readonly value: number }
  /** A constant of the program: what it is, and by how much it is to grow or what it is to be. */
  | {
      readonly in: 'program';
      readonly constant: string;
      readonly by?: number;
      readonly to?: number;
      readonly unit: string;
    };

export interface Cure {
  readonly text: string;
  readonly changes: readonly Change[];
}

/** What is said of a shot that came right when it was run again. */
export interface Finding {
  readonly id: CauseId;
  readonly fields: Fields;
  readonly sentence: string;
  readonly cure: Cure;
}

/** Whether the shot is right in another world. Errors of a world that cannot be (a light path) count as no. */
export type IsRight = (world: World) => boolean;

/**
 * One thing that is put right, everything else staying as it was. A candidate only if its evidence in the first run is not
 * zero; a cause only if the shot, run again, is right.
 */
export interface Intervention {
  readonly name: string;
  readonly title: string;
  /** What was aimed at becomes something else: all that can be done about an edge. */
  readonly movesAim?: true;
  evidence(first: Observation): number;
  apply(world: World, first: Observation): World;
  /**
   * Where what is put right has an amount that no read shows: looks for one with which the shot is right, a run at a time, and
   * `apply` has it from then on. It is tried alone only.
   */
  search?(first: Observation, world: World, isRight: IsRight): Stepwise<boolean>;
  describe(first: Observation, world: World, isRight: IsRight): Finding;
}

export const field = (value: number, unit: string): Field => ({ value, unit });
