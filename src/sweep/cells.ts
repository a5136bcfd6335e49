/** The axes of a sweep in their fixed order, the slowest first. */
export const AXES = ['strategy', 'hand', 'delayMs', 'panel', 'sensor', 'room', 'aim'] as const;
export type Axis = (typeof AXES)[number];

/** What an axis is called that the plan does not have: as the scenario says. */
export const AS_SCENARIO = 'as in the scenario';

/** Where a cell stands: one name an axis; a delay is a number of ms, or null for the scenario's own stages. */
export interface CellPlace {
  readonly strategy: string;
  readonly hand: string;
  readonly delayMs: number | null;
  readonly panel: string;
  readonly sensor: string;
  readonly room: string;
  readonly aim: string;
}

/** The entries of every axis, in the order of the plan. */
export type AxisEntries = { readonly [A in Axis]: readonly CellPlace[A][] };

export const cellCount = (entries: AxisEntries): number =>
  AXES.reduce((product, axis) => product * entries[axis].length, 1);

/** Which entry of each axis a cell has: cells are counted like the digits of a number, the last axis fastest. */
export function cellDigits(entries: AxisEntries, cell: number): Record<Axis, number> {
  const digits = {} as Record<Axis, number>;
  let rest = cell;
  for (const axis of [...AXES].reverse()) {
    const { length } = entries[axis];
    digits[axis] = rest % length;
    rest = Math.floor(rest / length);
  }
  return digits;
}

export function cellPlace(entries: AxisEntries, cell: number): CellPlace {
  const digits = cellDigits(entries, cell);
  return Object.fromEntries(AXES.map((axis) => [axis, entries[axis][digits[axis]]])) as unknown as CellPlace;
}

/** The cell of another strategy, all else equal. */
export function cellOfStrategy(entries: AxisEntries, cell: number, strategy: number): number {
  const perStrategy = cellCount(entries) / entries.strategy.length;
  return (cell % perStrategy) + strategy * perStrategy;
}

/** A place in words: only the axes that the plan has, and none of `except`. */
export function placeText(entries: AxisEntries, place: CellPlace, ...except: readonly Axis[]): string {
  return AXES.filter((axis) => isSwept(entries, axis) && !except.includes(axis))
    .map((axis) => (axis === 'delayMs' ? `${place.delayMs} ms` : place[axis]))
    .join(', ');
}

/** Whether the plan names the entries of an axis itself. */
export const isSwept = (entries: AxisEntries, axis: Axis): boolean => {
  const [first] = entries[axis];
  return first !== AS_SCENARIO && first !== null;
};
