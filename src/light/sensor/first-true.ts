/**
 * Depth up to which a guard may keep storage: a span of 2^32 ticks, longer than a run that is not asked once a frame, with
 * as many cuts by hints in between as there may be.
 */
export const MOST_HALVINGS = 96;
/** Every third cut is a halving, so that hints that lead nowhere cost no more than twice that. */
const HALVING = 3;

/** A guard over whole ticks. `Instant` is what a model knows of one tick. */
export interface GuardOverTicks<Instant extends { readonly ticks: number }> {
  /** Instants of other depths are still looked at, those of the same depth are not: they may share their storage. */
  at(ticks: number, depth?: number): Instant;
  isTrue(instant: Instant): boolean;
  /**
   * Where to cut a span next: ticks from its start after which the guard may become true, told by its slope there or, if
   * `isChord`, by its two ends. Any answer is right.
   */
  ticksToGo?(from: Instant, to: Instant, isChord: boolean): number;
  /** False only if the guard is false at every tick in (from, to]; decided from the two ends by bounds that hold. */
  mayBeTrue(from: Instant, to: Instant): boolean;
}

/**
 * The first whole tick in (from, to] at which the guard is true, Infinity if there is none; the guard is known to be
 * false at `from`.
 *
 * Method: branch and bound, earlier part first, down to single ticks. It cannot miss a crossing, and the answer does
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
  const middle = guard.at(from.ticks + firstPart(guard, from, to, depth), depth);
  const early = firstTrueTick(guard, from, middle, depth + 1);
  return early === Number.POSITIVE_INFINITY ? firstTrueTick(guard, middle, to, depth + 1) : early;
}

/** Where to cut: in the middle, or where slope and chord by turns say that something happens. */
function firstPart<Instant extends { readonly ticks: number }>(
  { ticksToGo }: GuardOverTicks<Instant>,
  from: Instant,
  to: Instant,
  depth: number,
): number {
  const span = to.ticks - from.ticks;
  const half = Math.floor(span / 2);
  if (ticksToGo === undefined || depth % HALVING === HALVING - 1) return half;
  const isChord = depth % HALVING === 1;
  const hinted = ticksToGo(from, to, isChord);
  // The slope of what falls ever slower leads to before the place, the chord behind it.
  const ticks = isChord ? Math.ceil(hinted) + 1 : Math.floor(hinted);
  return ticks >= 1 && ticks < span ? ticks : half;
}
