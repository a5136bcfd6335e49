import { axisSteps, type Span } from '../time-scale.ts';
import { type Curve, curvePoints } from './curve.ts';
import { type Pen, type Place, textWidth } from './pen.ts';
import { drawLooking, drawSaid } from './program-lanes.ts';
import type { Lane, LaneId, RulerLayout } from './ruler-layout.ts';
import { type LaneScale, numberText, type RulerView, xIn } from './ruler-view.ts';

/** CSS pixels from one label of the axis to the next, about; and fine ticks between two of them. */
const LABEL_STEP = 86;
const FINE_TICKS = 5;

/** Draw the whole ruler. */
export function drawRuler(pen: Pen, layout: RulerLayout, view: RulerView): void {
  const { colours } = view;
  pen.fill({ x: 0, y: 0, width: layout.width, height: layout.height }, colours.sheet);
  drawNames(pen, layout, view);
  for (const lane of layout.lanes) {
    const known = lane.id === 'axis' ? { lane, view } : knownPart(lane, view);
    if (known === undefined) continue;
    const { x, y, width, height } = known.lane.place;
    pen.within({ x, y: y - 3, width, height: height + 6 }, () => DRAW[lane.id](pen, known.lane, known.view));
  }
  pen.within(layout.plot, () => drawTrigger(pen, layout, view));
  drawCursors(pen, layout, view);
}

/** The part of a lane in which something is known: a ruler that shares its time may show more. Undefined: none is seen. */
function knownPart(lane: Lane, view: RulerView): { readonly lane: Lane; readonly view: RulerView } | undefined {
  const { span, lanes } = view;
  const known = { fromMs: Math.max(span.fromMs, lanes.fromMs), toMs: Math.min(span.toMs, lanes.toMs) };
  if (known.toMs <= known.fromMs) return undefined;
  const [left, right] = [xIn(lane.place, span, known.fromMs), xIn(lane.place, span, known.toMs)];
  return { lane: { ...lane, place: { ...lane.place, x: left, width: right - left } }, view: { ...view, span: known } };
}

const DRAW: Readonly<Record<LaneId, (pen: Pen, lane: Lane, view: RulerView) => void>> = {
  axis: drawAxis,
  frames: drawFrames,
  wire: drawWire,
  light: (pen, { place }, view) =>
    drawBand(pen, place, view.span, view.curves.light, view.lightScale, view.colours.light),
  sensor: drawSensor,
  bit: drawBit,
  reads: drawLooking,
  says: drawSaid,
};

function drawNames(
  pen: Pen,
  { lanes, isNarrow, width }: RulerLayout,
  { colours, lightScale, sensorScale }: RulerView,
): void {
  const ranges: Partial<Record<LaneId, string>> = { light: rangeText(lightScale), sensor: rangeText(sensorScale) };
  for (const { id, name, nameY } of lanes) {
    const range = ranges[id];
    const isSplit = range !== undefined && !isNarrow;
    pen.text(0, isSplit ? nameY - 7 : nameY, name, { colour: colours.secondary });
    if (range === undefined) continue;
    if (isSplit) pen.text(0, nameY + 9, range, { colour: colours.secondary });
    else pen.text(width, nameY, range, { colour: colours.secondary, anchor: 'end' });
  }
}

function rangeText({ least, largest }: LaneScale): string {
  const digits = largest < 10 ? 1 : 0;
  return `${numberText(least, digits)} to ${numberText(largest, digits)}\u2009cd/m²`;
}

function drawAxis(pen: Pen, { place }: Lane, { span, colours }: RulerView): void {
  const steps = axisSteps(span, Math.max(2, place.width / LABEL_STEP));
  const step = steps.length > 1 ? steps[1]! - steps[0]! : span.toMs - span.fromMs;
  const digits = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  for (let k = -1; k < steps.length; k++) {
    const from = k < 0 ? steps[0]! - step : steps[k]!;
    for (let fine = 1; fine < FINE_TICKS; fine++) {
      const x = xIn(place, span, from + (fine * step) / FINE_TICKS);
      pen.line([x, place.y, x, place.y + 5], { colour: colours.border });
    }
  }
  for (const ms of steps) {
    const x = xIn(place, span, ms);
    pen.line([x, place.y, x, place.y + 10], { colour: colours.secondary });
    const text = numberText(Math.abs(ms) < step / 1000 ? 0 : ms, digits);
    if (x + 4 + textWidth(text) < place.x + place.width)
      pen.text(x + 4, place.y + 14, text, { colour: colours.secondary });
  }
}

function drawFrames(pen: Pen, { place }: Lane, { lanes, span, colours }: RulerView): void {
  for (const { fromMs, toMs, name } of lanes.pictures) {
    const [left, right] = [xIn(place, span, fromMs) + 1, xIn(place, span, toMs) - 1];
    if (right < place.x || left > place.x + place.width || right <= left) continue;
    const isBox = name.startsWith('box');
    const block = { x: left, y: place.y + 1, width: right - left, height: place.height - 2 };
    if (isBox) pen.outline(block, { colour: colours.light, width: 1.75 });
    else pen.fill(block, colours.hatch);
    const seenLeft = Math.max(left, place.x);
    const room = Math.min(right, place.x + place.width) - seenLeft;
    const words = [name, name.replace('box ', '')].find((text) => room > textWidth(text) + 8);
    if (words !== undefined) pen.text(seenLeft + 6, place.y + 13, words, { colour: colours.ink });
  }
}

function drawWire(pen: Pen, { place }: Lane, { lanes: { wire }, span, colours }: RulerView): void {
  const y = (level: number): number => place.y + place.height - 1 - level * (place.height - 3);
  const points = [place.x, y(0)];
  for (let row = 0; row < wire.length; row += 3) {
    const [from, to] = [xIn(place, span, wire[row]!), xIn(place, span, wire[row + 1]!)];
    if (to < place.x || from > place.x + place.width) continue;
    const isFirst = row === 0 || wire[row]! - wire[row - 2]! > 1e-6;
    const isLast = row + 3 >= wire.length || wire[row + 3]! - wire[row + 1]! > 1e-6;
    const level = y(wire[row + 2]!);
    if (isFirst) points.push(from, y(0));
    points.push(from, level, to, level);
    if (isLast) points.push(to, y(0));
  }
  points.push(place.x + place.width, y(0));
  pen.line(points, { colour: colours.secondary, width: 1.5 });
}

/** Least and largest as one shape with a rim, so that a short pulse stays visible at every zoom. */
function drawBand(pen: Pen, place: Place, span: Span, curve: Curve, scale: LaneScale, colour: string): void {
  const { x, least, largest } = curvePoints(curve, span, place.width);
  const y = yIn(place, scale);
  const count = x.length;
  const points = new Float64Array(4 * count);
  for (let i = 0; i < count; i++) {
    points[2 * i] = place.x + x[i]!;
    points[2 * i + 1] = y(largest[i]!);
    points[4 * count - 2 * i - 2] = place.x + x[i]!;
    points[4 * count - 2 * i - 1] = y(least[i]!);
  }
  pen.shape(points, colour, 1.5);
}

const yIn =
  ({ y, height }: Place, { least, largest }: LaneScale) =>
  (value: number): number =>
    y + height - 1 - ((value - least) / (largest - least)) * (height - 2);

function drawSensor(pen: Pen, { place }: Lane, { curves, span, sensorScale, colours }: RulerView): void {
  const { x, largest } = curvePoints(curves.threshold, span, place.width);
  const y = yIn(place, sensorScale);
  drawBand(pen, place, span, curves.sensor, sensorScale, colours.sensor);
  const points = Array.from(x, (at, i) => [place.x + at, y(largest[i]!)]).flat();
  pen.line(points, { colour: colours.ink, width: 1, dash: [4, 3] });
}

function drawBit(pen: Pen, { place }: Lane, { lanes: { lit }, span, colours }: RulerView): void {
  const [low, high] = [place.y + place.height - 2, place.y + 2];
  const points = [place.x, low];
  for (const { fromMs, toMs } of lit) {
    const [from, to] = [xIn(place, span, fromMs), xIn(place, span, toMs)];
    if (to < place.x || from > place.x + place.width) continue;
    const left = Math.max(place.x - 2, from);
    const right = Math.min(place.x + place.width + 2, to);
    points.push(left, low, left, high, right, high, right, low);
  }
  points.push(place.x + place.width, low);
  pen.line(points, { colour: colours.ink, width: 1.75 });
}

function drawTrigger(pen: Pen, { plot, lanes }: RulerLayout, { span, colours }: RulerView): void {
  const x = xIn(plot, span, 0);
  for (const { place } of lanes)
    pen.line([x, place.y, x, place.y + place.height], { colour: colours.secondary, dash: [1, 4] });
}

function drawCursors(pen: Pen, layout: RulerLayout, view: RulerView): void {
  const { plot, footY } = layout;
  const { cursorMs, secondMs, cursorText, colours, span } = view;
  const line = (ms: number, dash: readonly number[]): void => {
    const x = xIn(plot, span, ms);
    pen.within(plot, () => pen.line([x, plot.y, x, plot.height], { colour: colours.aim, width: 1.75, dash }));
  };
  if (cursorMs === undefined) return;
  if (secondMs !== undefined) {
    line(secondMs, [5, 3]);
    const [left, right] = [cursorMs, secondMs].sort((a, b) => a - b).map((ms) => xIn(plot, span, ms)) as [
      number,
      number,
    ];
    pen.within({ ...plot, height: layout.height }, () =>
      pen.line([left, footY - 8, left, footY, right, footY, right, footY - 8], { colour: colours.aim, width: 1.5 }),
    );
  }
  line(cursorMs, []);
  const x = xIn(plot, span, secondMs === undefined ? cursorMs : (cursorMs + secondMs) / 2);
  drawPill(pen, layout, x, cursorText, view);
}

/** A label that stays within the ruler. */
function drawPill(pen: Pen, { width, footY }: RulerLayout, x: number, text: string, { colours }: RulerView): void {
  const words = fitting(text, width - 18);
  const size = textWidth(words) + 18;
  const left = Math.max(0, Math.min(width - size, x - size / 2));
  pen.fill({ x: left, y: footY - 11, width: size, height: 22 }, colours.aim, 4);
  pen.text(left + size / 2, footY + 4, words, { colour: colours.sheet, anchor: 'middle', isStrong: true });
}

/** A text without the last of its parts that do not fit; the readout has them all. */
function fitting(text: string, width: number): string {
  const parts = text.split(' · ');
  while (parts.length > 1 && textWidth(parts.join(' · ')) > width) parts.pop();
  return parts.join(' · ');
}
