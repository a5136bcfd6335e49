import type { TargetRectangle } from '../../picture/picture.ts';
import type { RasterState } from './raster-state.ts';

/** What the raster unit asks of its surroundings. */
export interface RasterHooks {
  /** Where the program has its targets now; asked at every vblank dot, after the trace has its vblank event. */
  targetsForNextPicture(): readonly TargetRectangle[];
}

/**
 * A raster unit, whichever way it is carried out.
 *
 * Ticks are absolute and never go back. Before `readRegister`, `writeRegister` and `writeOam` the caller has called
 * `runTo` with the tick of the access, so that the unit stands in the dot that holds it.
 */
export interface Raster {
  /** Carry out every dot whose first tick is at or before `tick`. */
  runTo(tick: number): void;
  /** Vblank flag and NMI enable: a level. */
  readonly isNmiLineAsserted: boolean;
  /** Registers 0..7 are $2000..$2007. Returns all eight bits, with what the unit's own data pins still hold. */
  readRegister(register: number, tick: number): number;
  writeRegister(register: number, value: number, tick: number): void;
  /** A byte of sprite DMA: a write to $2004 that the trace does not list. */
  writeOam(value: number): void;
  save(): RasterState;
  /** The picture history must already stand at the picture of the state. Error: STATE_FIELD. */
  load(state: RasterState): void;
}
