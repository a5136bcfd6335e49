import type { ShotLanes, ShotMark } from '../../workers/play.api.ts';
import { pixelsOf, type Span } from '../time-scale.ts';
import type { Curve } from './curve.ts';
import type { Place } from './pen.ts';

/** Colours of the page, one job each. */
export interface RulerColours {
  readonly sheet: string;
  readonly ink: string;
  readonly secondary: string;
  readonly light: string;
  readonly aim: string;
  readonly sensor: string;
  readonly wrong: string;
  readonly right: string;
  readonly border: string;
  readonly hatch: string;
}

/** The light's lanes in the finest form that covers what is seen. */
export interface RulerCurves {
  readonly light: Curve;
  readonly sensor: Curve;
  readonly threshold: Curve;
}

/** Values at the top and bottom of a lane, cd/m2. */
export interface LaneScale {
  readonly least: number;
  readonly largest: number;
}

/** All that a drawing of the ruler depends on. */
export interface RulerView {
  readonly lanes: ShotLanes;
  readonly marks: readonly ShotMark[];
  readonly span: Span;
  readonly curves: RulerCurves;
  readonly lightScale: LaneScale;
  readonly sensorScale: LaneScale;
  readonly colours: RulerColours;
  readonly cursorMs: number | undefined;
  readonly secondMs: number | undefined;
  /** What is said at the cursor. */
  readonly cursorText: string;
}

/** How much too early or too late the program looked, where the light of the flash came and was not read; else undefined. */
export interface MissedBy extends Span {
  readonly text: string;
}

export function missedBy({ lit, reads, looking }: ShotLanes, marks: readonly ShotMark[]): MissedBy | undefined {
  const at = (name: string): number | undefined => marks.find((mark) => mark.name === name)?.ms;
  const [crossing, lastRead] = [at('crossing'), at('lastRead')];
  if (crossing === undefined || at('flashRead') !== undefined) return undefined;
  if (lastRead !== undefined && lastRead < crossing) {
    return { fromMs: lastRead, toMs: crossing, text: `${msText(crossing - lastRead, 1)} too early` };
  }
  const end = lit.find(({ fromMs, toMs }) => fromMs <= crossing && toMs > crossing)?.toMs;
  const last = looking[looking.length - 1]?.toMs;
  const read = end === undefined ? undefined : reads.find((ms) => ms >= end);
  if (end === undefined || read === undefined || last === undefined || read > last) return undefined;
  return { fromMs: end, toMs: read, text: `${msText(read - end, 1)} too late` };
}

/** A time with its unit, a thin space between. */
export const msText = (ms: number, digits: number): string => `${numberText(ms, digits)}\u2009ms`;

/** A number with a real minus. */
export const numberText = (value: number, digits: number): string => value.toFixed(digits).replace('-', '\u2212');

/** From time to x of a place whose width is the span. */
export const xIn = ({ x, width }: Place, span: Span, ms: number): number => x + pixelsOf(ms, span, width);
