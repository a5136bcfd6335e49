/**
 * Which of many claims are shown at a joint level, by Holm's step-down rule: the k-th smallest p is compared with
 * level / (count - k + 1), and from the first that fails on none is shown.
 *
 * Source: S. Holm, Scand. J. Stat. 6:65, 1979 (from memory). Answers in the order of `p`.
 */
export function holm(p: readonly number[], level: number): boolean[] {
  const order = p.map((_, i) => i).sort((a, b) => p[a]! - p[b]! || a - b);
  const isShown = p.map(() => false);
  for (const [k, i] of order.entries()) {
    if (p[i]! > level / (p.length - k)) break;
    isShown[i] = true;
  }
  return isShown;
}
