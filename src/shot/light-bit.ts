/** Whether the light bit is lit at a tick. `flips` ascend and alternate, the first one is to lit. */
export function isLitAt(flips: readonly number[], tick: number): boolean {
  let count = flips.length;
  while (count > 0 && flips[count - 1]! > tick) count--;
  return count % 2 === 1;
}
