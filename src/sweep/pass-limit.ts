import { AXES, type Axis, type AxisEntries, type CellPlace, cellCount, cellPlace } from './cells.ts';
import type { PassLimit, PlanDocument } from './plan-format.ts';
import { normalQuantile } from './statistics/normal.ts';
import { leastTrials } from './statistics/wilson.ts';

/** One side of a two-sided 95 % interval. */
export const LEVEL = 0.025;

/** A limit in words: what must be shown. */
export function limitText({ measure, atMost, atLeast, overCells }: PassLimit): string {
  const bound = atMost === undefined ? `at least ${atLeast}` : `at most ${atMost}`;
  return `${measure} ${bound}${overCells === 'each' ? ', each cell by itself' : ''}`;
}

/** Unknown names, and limits that n shots a cell cannot show, whatever comes of them. */
export function limitFaults({ passLimits, n }: PlanDocument, entries: AxisEntries): string[] {
  return passLimits.flatMap((limit, i) => {
    const names = nameFaults(entries, limit).map((fault) => `passLimits.${i}.where.${fault}`);
    if (names.length > 0) return names;
    const cells = cellsOf(entries, limit).length;
    const least = leastN(limit, cells);
    if (n >= least) return [];
    const among =
      cells > 1 && limit.overCells === 'holm'
        ? ` (Holm's correction over ${cells} cells; "overCells": "each" takes each by itself)`
        : '';
    return [
      `passLimits.${i}: found n = ${n}, allowed n of at least ${least}: fewer shots cannot show "${limitText(limit)}" even without a failure${among}`,
    ];
  });
}

function nameFaults(entries: AxisEntries, { where }: PassLimit): string[] {
  return AXES.flatMap((axis) =>
    (where[axis] ?? []).flatMap((name) =>
      (entries[axis] as readonly unknown[]).includes(name)
        ? []
        : [`${axis}: found ${JSON.stringify(name)}, allowed ${entries[axis].join(', ')}`],
    ),
  );
}

function cellsOf(entries: AxisEntries, limit: PassLimit): number[] {
  return Array.from({ length: cellCount(entries) }, (_, cell) => cell).filter((cell) =>
    isWhere(limit, cellPlace(entries, cell)),
  );
}

/** Whether a limit is for the cells at this place. */
export const isWhere = ({ where }: PassLimit, place: CellPlace): boolean =>
  AXES.every((axis: Axis) => where[axis] === undefined || (where[axis] as readonly unknown[]).includes(place[axis]));

/** The share of failures that is allowed. */
export const failureLimit = ({ atMost, atLeast }: PassLimit): number => atMost ?? 1 - atLeast!;

/** Least shots a cell for a limit over this many cells. The first step of Holm's rule asks for the whole correction. */
export function leastN(limit: PassLimit, cells: number): number {
  return leastTrials(failureLimit(limit), normalQuantile(levelOf(limit, cells)));
}

const levelOf = ({ overCells }: PassLimit, cells: number): number =>
  overCells === 'each' ? LEVEL : LEVEL / Math.max(1, cells);
