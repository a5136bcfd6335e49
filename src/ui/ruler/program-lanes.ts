import type { ShotLanes, Stretch } from '../../workers/play.api.ts';
import type { Span } from '../time-scale.ts';
import { type Pen, type Place, textWidth } from './pen.ts';
import type { Lane } from './ruler-layout.ts';
import { missedBy, type RulerView, xIn } from './ruler-view.ts';

const NOT_LOOKING = 'not looking';
/** A look is drawn at least this wide, px. */
const READ_WIDTH = 1.75;
/** The point on reads that saw light, px; it begins a little above the lane. */
const POINT = { half: 5, height: 5 } as const;
/** Reads closer than this are drawn as one bar, px. */
const CLOSE_PX = 3;

/** The reads of the port, and hatched what lies between the looks. */
export function drawLooking(pen: Pen, { place }: Lane, { lanes, span, colours }: RulerView): void {
  const end = place.x + place.width;
  const hatch = (left: number, right: number): void => {
    const [from, to] = [Math.max(left, place.x), Math.min(right, end)];
    if (to - from >= 2) pen.hatch({ ...place, x: from, width: to - from }, { colour: colours.border, width: 1.5 });
  };
  let from = place.x;
  for (const { fromMs, toMs } of lanes.looking) {
    const left = xIn(place, span, fromMs);
    if (left > end) break;
    hatch(from, left);
    from = Math.max(from, xIn(place, span, toMs));
  }
  hatch(from, end);
  const runs = readRuns(place, lanes, span);
  for (const [i, { left }] of [...runs, { left: end }].entries()) {
    drawWords(pen, place, Math.max(place.x, runs[i - 1]?.right ?? place.x), left, colours);
  }
  const decisionX = lanes.said === null ? end : xIn(place, span, lanes.said.ms);
  for (const run of runs) drawRun(pen, place, run, run.left > decisionX, colours);
}

type Colours = RulerView['colours'];

/** The words stand between two reads, where there is room. */
function drawWords(pen: Pen, place: Place, left: number, right: number, colours: Colours): void {
  const width = textWidth(NOT_LOOKING);
  if (right - left < width + 16) return;
  const middle = (left + right) / 2;
  pen.fill({ ...place, x: middle - width / 2, width }, colours.sheet);
  pen.text(middle, place.y + 12, NOT_LOOKING, { colour: colours.secondary, anchor: 'middle', isItalic: true });
}

export interface ReadRun {
  readonly left: number;
  right: number;
  /** They saw light; of those within a pixel, one did. */
  isLit: boolean;
}

/** Reads in pixels; those that nobody could tell apart, and that saw the same, are one run. */
export function readRuns(place: Place, { reads, lit }: Pick<ShotLanes, 'reads' | 'lit'>, span: Span): ReadRun[] {
  const runs: ReadRun[] = [];
  const saw = litReader(lit);
  for (let at = firstAtOrAfter(reads, span.fromMs); at < reads.length && reads[at]! <= span.toMs; at++) {
    const x = xIn(place, span, reads[at]!);
    const isLit = saw(reads[at]!);
    const last = runs[runs.length - 1];
    if (last === undefined || x - last.right >= CLOSE_PX) runs.push({ left: x, right: x, isLit });
    else if (last.isLit === isLit) last.right = x;
    else if (x - last.left >= 1) runs.push({ left: x, right: x, isLit });
    else Object.assign(last, { right: x, isLit: true });
  }
  return runs;
}

/** Whether the bit is lit at each of some ascending times. */
export function litReader(lit: readonly Stretch[]): (ms: number) => boolean {
  let row = 0;
  return (ms) => {
    while (row < lit.length && lit[row]!.toMs <= ms) row++;
    return row < lit.length && lit[row]!.fromMs <= ms;
  };
}

/**
 * Reads behind the decision are lower: nobody waits for them. Those that saw light have another colour and end in a
 * point.
 */
function drawRun(pen: Pen, place: Place, run: ReadRun, isLate: boolean, colours: Colours): void {
  const { left, right } = run;
  const bar = { x: left - READ_WIDTH / 2, width: right - left + READ_WIDTH };
  if (run.isLit) {
    const top = place.y + (isLate ? place.height / 2 : POINT.height);
    pen.fill({ ...bar, y: top, height: place.y + place.height - top }, colours.light);
    const middle = (left + right) / 2;
    pen.shape([middle - POINT.half, top, middle, top - POINT.height - 3, middle + POINT.half, top], colours.light, 0);
    return;
  }
  const isSingle = right === left;
  const height = isLate ? place.height / 2 : isSingle ? place.height - 2 : place.height - 6;
  const y = place.y + (place.height - height) / 2;
  pen.fill({ ...bar, y, height }, isSingle && !isLate ? colours.ink : colours.secondary);
}

/** Place of the first of these ascending times that is not before `ms`. */
export function firstAtOrAfter(times: ArrayLike<number>, ms: number): number {
  let [low, high] = [0, times.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (times[middle]! < ms) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** What the program said, and how far off its look was. */
export function drawSaid(pen: Pen, { place }: Lane, view: RulerView): void {
  const { lanes, span, colours } = view;
  const said = lanes.said && { ...saidPlace(place, span, lanes.said), ...lanes.said };
  drawMissed(pen, place, view, said?.left ?? Number.POSITIVE_INFINITY);
  if (said === null) return;
  const { x, text, isRight, isLeft } = said;
  const y = place.y + place.height / 2;
  pen.shape([x - 5, y, x, y - 8, x + 5, y, x, y + 8], isRight ? colours.right : colours.wrong, 0);
  pen.text(isLeft ? x - 9 : x + 9, y + 4, text, { colour: colours.ink, anchor: isLeft ? 'end' : 'start' });
}

/** The words stand left of their moment, where there is room. */
function saidPlace(place: Place, span: Span, { ms, text }: { readonly ms: number; readonly text: string }) {
  const x = xIn(place, span, ms);
  const left = x - 10 - textWidth(text);
  return left > place.x ? { x, left, isLeft: true } : { x, left: x - 5, isLeft: false };
}

function drawMissed(pen: Pen, place: Place, { lanes, marks, span, colours }: RulerView, saidLeft: number): void {
  const missed = missedBy(lanes, marks);
  if (missed === undefined) return;
  const [left, right] = [xIn(place, span, missed.fromMs), xIn(place, span, missed.toMs)];
  const y = place.y + place.height / 2;
  const style = { colour: colours.wrong, width: 1.75 };
  for (const line of [
    [left, y - 8, left, y + 8],
    [right, y - 8, right, y + 8],
    [left, y, right, y],
  ])
    pen.line(line, style);
  const [seenLeft, seenRight] = [Math.max(left, place.x), Math.min(right, place.x + place.width)];
  if (seenRight < seenLeft) return;
  const size = textWidth(missed.text) + 8;
  const middle = (seenLeft + seenRight) / 2;
  const words = (x: number, anchor: 'start' | 'middle' | 'end'): void =>
    pen.text(x, y + 4, missed.text, { colour: colours.wrong, anchor, isStrong: true });
  if (seenRight - seenLeft > size + 16) {
    pen.fill({ x: middle - size / 2, y: place.y, width: size, height: place.height }, colours.sheet);
    words(middle, 'middle');
  } else if (right + 6 + size < place.x + place.width) words(right + 6, 'start');
  else words(Math.min(left - 6, saidLeft - 6), 'end');
}
