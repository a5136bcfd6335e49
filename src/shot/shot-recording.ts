import type { AimMove, LightPath, LightPathState } from '../light/light-path.ts';
import { ReadLog } from './read-log.ts';
import type { ReplayStart } from './shot-replay.ts';

/** Frames from one state of the light to the next; a shot that outlasts the pictures kept is replayed from a later one. */
const FRAMES_A_START = 24;

/** What is written down while a shot runs, so that it can be played again: states of the light, the aim's moves, the reads. */
export class ShotRecording {
  readonly reads = new ReadLog();
  readonly #states: { readonly state: LightPathState; readonly movesBefore: number }[] = [];
  readonly #moves: AimMove[] = [];
  #frames = 0;

  /** `light` stands at the trigger. */
  constructor(light: LightPath) {
    this.#keep(light);
  }

  move(move: AimMove): void {
    this.#moves.push(move);
  }

  /** The console has run for one frame more. */
  frameDone(light: LightPath): void {
    if (++this.#frames % FRAMES_A_START === 0) this.#keep(light);
  }

  #keep(light: LightPath): void {
    this.#states.push({ state: light.save(), movesBefore: this.#moves.length });
  }

  get starts(): readonly ReplayStart[] {
    return this.#states.map(({ state, movesBefore }) => ({ state, moves: this.#moves.slice(movesBefore) }));
  }
}
