/** The last of a list of which something holds. */
export function latestOf<T>(list: readonly T[], holds: (one: T) => boolean): T | undefined {
  for (let at = list.length - 1; at >= 0; at--) if (holds(list[at]!)) return list[at];
  return undefined;
}
