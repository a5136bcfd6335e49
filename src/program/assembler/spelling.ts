/**
 * The candidate that is nearest to a misspelt word, or undefined when none is near: one letter changed, missing, extra
 * or swapped with its neighbour for short words, two for words of six letters and more. Case does not count as a change
 * of its own.
 */
export function nearest(word: string, candidates: Iterable<string>): string | undefined {
  const wanted = word.toLowerCase();
  const limit = wanted.length >= 6 ? 2 : 1;
  let best: string | undefined;
  let bestDistance = limit + 1;
  for (const candidate of candidates) {
    if (Math.abs(candidate.length - wanted.length) > limit || candidate === word) continue;
    const distance = editDistance(wanted, candidate.toLowerCase(), bestDistance);
    if (distance < bestDistance) {
      best = candidate;
      bestDistance = distance;
    }
  }
  return best;
}

/** Letters to change, insert, delete or swap with a neighbour to turn `a` into `b`; stops counting at `enough`. */
export function editDistance(a: string, b: string, enough = Number.POSITIVE_INFINITY): number {
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const isSame = a[i - 1] === b[j - 1];
      let cost = Math.min(last[j]! + 1, row[j - 1]! + 1, last[j - 1]! + (isSame ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        cost = Math.min(cost, beforeLast[j - 2]! + 1);
      row.push(cost);
    }
    if (Math.min(...row) >= enough) return enough;
    beforeLast = last;
    last = row;
  }
  return last[b.length]!;
}
