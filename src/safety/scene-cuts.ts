import { changedShare, luminanceOf } from './cell-luminance.ts';

/** A picture that differs in more than this share of its cells may be another scene. Our choice. */
const OTHER_SHARE = 0.25;
/** So long it has to stand, s. Our choice: longer than a shot, and than a calibration flash of 30 frames at 60 Hz. */
const STANDS_S = 0.6;

/** What a frame does to the scene: goes on with it, may leave it, or has stood long enough to be another since `fromS`. */
export type SceneStep = { readonly kind: 'stays' | 'leaves' } | { readonly kind: 'begins'; readonly fromS: number };

/** Parts a stream of frames into scenes: title, street, ... Flashes come back to the scene that they left. */
export class SceneCuts {
  #scene: Float64Array | undefined;
  /** Of the latest frame. */
  #latest: Float64Array | undefined;
  #other: { readonly sinceS: number; readonly luminance: Float64Array } | undefined;

  /** The next frame: light by cell, shape `[cell * 3 + primary]`, shown from `timeS` on. `isSame`: the one before once more. */
  push(light: Float64Array, timeS: number, isSame = false): SceneStep {
    const luminance = (isSame ? this.#latest : undefined) ?? luminanceOf(light);
    this.#latest = luminance;
    if (this.#scene === undefined) {
      this.#scene = luminance;
      return { kind: 'begins', fromS: timeS };
    }
    if (changedShare(luminance, this.#scene) <= OTHER_SHARE) return this.#stay(luminance);
    if (this.#other === undefined || changedShare(luminance, this.#other.luminance) > OTHER_SHARE) {
      this.#other = { sinceS: timeS, luminance };
      return { kind: 'leaves' };
    }
    if (timeS - this.#other.sinceS < STANDS_S) return { kind: 'stays' };
    const fromS = this.#other.sinceS;
    this.#stay(luminance);
    return { kind: 'begins', fromS };
  }

  #stay(luminance: Float64Array): SceneStep {
    this.#scene = luminance;
    this.#other = undefined;
    return { kind: 'stays' };
  }
}
