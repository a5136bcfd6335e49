import type { Place } from './pen.ts';

export type LaneId = 'axis' | 'frames' | 'wire' | 'light' | 'sensor' | 'bit' | 'reads' | 'says';

const LANES: readonly { readonly id: LaneId; readonly name: string; readonly height: number }[] = [
  { id: 'axis', name: 'ms from trigger', height: 22 },
  { id: 'frames', name: 'frames', height: 18 },
  { id: 'wire', name: 'on the wire', height: 20 },
  { id: 'light', name: 'light at the spot', height: 36 },
  { id: 'sensor', name: 'sensor · threshold', height: 40 },
  { id: 'bit', name: 'light bit', height: 16 },
  { id: 'reads', name: 'reads · ▲ saw light', height: 16 },
  { id: 'says', name: 'program says', height: 20 },
];

const GAP = 9;
const NAMES_WIDTH = 158;
/** A ruler narrower than this has the names above the lanes. */
const NARROW = 560;
const NAME_HEIGHT = 16;
/** Room for what is said about the cursors, below the lanes. */
const FOOT = 30;

export interface Lane {
  readonly id: LaneId;
  readonly name: string;
  /** Base line of the name. */
  readonly nameY: number;
  /** Where the lane is drawn; x and width are those of the time axis. */
  readonly place: Place;
}

/** Where everything stands, CSS pixels. */
export interface RulerLayout {
  readonly width: number;
  readonly height: number;
  /** The part in which time runs, all lanes of it. */
  readonly plot: Place;
  readonly lanes: readonly Lane[];
  readonly isNarrow: boolean;
  /** Middle of the line below the lanes. */
  readonly footY: number;
}

export function rulerLayout(width: number): RulerLayout {
  const isNarrow = width < NARROW;
  const x = isNarrow ? 0 : NAMES_WIDTH;
  const lanes: Lane[] = [];
  let top = 0;
  for (const { id, name, height } of LANES) {
    if (isNarrow) top += NAME_HEIGHT;
    const nameY = isNarrow ? top - 4 : top + height / 2 + 4;
    lanes.push({ id, name, nameY, place: { x, y: top, width: width - x, height } });
    top += height + GAP;
  }
  const plot = { x, y: 0, width: width - x, height: top - GAP };
  return { width, height: top + FOOT, plot, lanes, isNarrow, footY: top + FOOT / 2 - 2 };
}
