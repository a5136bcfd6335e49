/** Depth up to which a guard may keep storage: a span of 2^32 ticks, longer than a run that is not asked once a frame. */
export const MOST_HALVINGS = 32;

/** A guard over whole ticks. `Instant` is what a model knows of one tick. */
export interface GuardOverTicks<Instant extends { readonly ticks: number }> {
  /** Instants of other depths are still looked at, those of the same depth are not: they may share their storage. */
  at(ticks: number, depth?: number): Instant;
  isTrue(instant: Instant): boolean;
  /** False only if the guard is false at every tick in (from, to]; decided from the two ends by bounds that hold. */
  mayBeTrue(from: Instant, to: Instant): boolean;
}

/**
 * The first whole tick in (from, to] at which the guard is true, Infinity if there is none; the guard is known to be
 * false at `from`.
 *
 * Method: branch and bound, earlier half first, down to single ticks. It cannot miss a crossing, and the answer does
 * not depend on how a span is cut into calls.
 */
export function firstTrueTick<Instant extends { readonly ticks: number }>(
  guard: GuardOverTicks<Instant>,
  from: Instant,
  to: Instant,
  depth = 0,
): number {
  if (to.ticks <= from.ticks || !guard.mayBeTrue(from, to)) return Number.POSITIVE_INFINITY;
  if (to.ticks - from.ticks === 1) return guard.isTrue(to) ? to.ticks : Number.POSITIVE_INFINITY;
  const middle = guard.at(from.ticks + Math.floor((to.ticks - from.ticks) / 2), depth);
  const early = firstTrueTick(guard, from, middle, depth + 1);
  return early === Number.POSITIVE_INFINITY ? firstTrueTick(guard, middle, to, depth + 1) : early;
}
