/** Time constants closer than this, relative to each other, make a closed form lose its digits. Our choice. */
const CLOSEST_POLES = 1e-6;

/** `tauS`, moved up by twice `CLOSEST_POLES` wherever it would lie closer than `CLOSEST_POLES` to another. */
export function keptApart(tauS: number, others: Iterable<number>): number {
  let moved = tauS;
  for (const other of [...others].sort((a, b) => a - b)) {
    if (Math.abs(moved / other - 1) < CLOSEST_POLES) moved = other * (1 + 2 * CLOSEST_POLES);
  }
  return moved;
}
