import type { ShotLanes, ShotMark } from '../../workers/play.api.ts';
import { firstAtOrAfter } from './program-lanes.ts';

/** What a cursor snaps to: instants before edges of the lanes, edges before single reads. */
export class SnapPoints {
  readonly #instants: Float64Array;
  readonly #edges: Float64Array;
  readonly #reads: Float64Array;

  constructor({ lit, looking, pictures, reads }: ShotLanes, marks: readonly ShotMark[]) {
    this.#instants = Float64Array.from(marks, ({ ms }) => ms).sort();
    const edges = [lit, looking, pictures].flatMap((lane) => lane.flatMap(({ fromMs, toMs }) => [fromMs, toMs]));
    this.#edges = Float64Array.from(edges).sort();
    this.#reads = reads;
  }

  /** The point within reach, else the time itself. */
  snapped(ms: number, reachMs: number): number {
    for (const points of [this.#instants, this.#edges, this.#reads]) {
      const at = firstAtOrAfter(points, ms);
      const [before, after] = [points[at - 1] ?? Number.NaN, points[at] ?? Number.NaN];
      const near = !(ms - before < after - ms) && !Number.isNaN(after) ? after : before;
      if (Math.abs(near - ms) <= reachMs) return near;
    }
    return ms;
  }

  /** The next instant or edge in a direction; undefined behind the last. */
  next(ms: number, direction: 1 | -1): number | undefined {
    const all = [...this.#instants, ...this.#edges].sort((a, b) => a - b);
    return direction > 0 ? all.find((point) => point > ms + 1e-9) : all.findLast((point) => point < ms - 1e-9);
  }
}
