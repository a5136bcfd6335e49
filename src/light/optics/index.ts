import { GAUSSIAN_SPOT } from './gaussian-spot.ts';
import type { OpticsModel } from './optics.ts';

export { spotShare } from './gaussian-spot.ts';

/** Every optics model: one line each. */
export const OPTICS: readonly OpticsModel[] = [GAUSSIAN_SPOT];
