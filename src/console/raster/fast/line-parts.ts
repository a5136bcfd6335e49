import { PICTURE_WIDTH, type Timing } from '../../../units/timing.ts';
import type { RasterState } from '../raster-state.ts';
import type { VideoMemory } from '../video-memory.ts';
import type { BackgroundLine } from './background-line.ts';
import type { SpriteLines } from './sprite-lines.ts';
import type { SpriteOverlay } from './sprite-overlay.ts';
import type { VideoMap } from './video-map.ts';

/** State and memories of one raster unit. `map` is up to date when lines are carried out. */
export interface LineParts {
  readonly timing: Timing;
  readonly state: RasterState;
  readonly memory: VideoMemory;
  readonly map: VideoMap;
  readonly sprites: SpriteLines;
}

/** What lines are drawn with; holds nothing between two of them. */
export interface LineBrushes {
  readonly background: BackgroundLine;
  readonly overlay: SpriteOverlay;
}

/** First column that shows a layer: none, all, or all but the left column. */
export function firstColumnOf(mask: number, on: number, left: number): number {
  if ((mask & on) === 0) return PICTURE_WIDTH;
  return (mask & left) !== 0 ? 0 : 8;
}
