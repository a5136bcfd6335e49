/** A stretch of time on the ruler, ms. */
export interface Span {
  readonly fromMs: number;
  readonly toMs: number;
}

/** From time to pixels of a ruler of this width. */
export const pixelsOf = (ms: number, { fromMs, toMs }: Span, width: number): number =>
  ((ms - fromMs) / (toMs - fromMs)) * width;

export const msAt = (pixels: number, { fromMs, toMs }: Span, width: number): number =>
  fromMs + (pixels / width) * (toMs - fromMs);

/** Shortest stretch that can be looked at: some 200 ticks, about half a tick a pixel. */
const SHORTEST_MS = 0.01;

/** Zoom by a factor around a moment, within what there is. A factor below 1 shows less time. */
export function zoomed(span: Span, factor: number, aroundMs: number, whole: Span): Span {
  const length = Math.min(whole.toMs - whole.fromMs, Math.max(SHORTEST_MS, (span.toMs - span.fromMs) * factor));
  const share = (aroundMs - span.fromMs) / (span.toMs - span.fromMs);
  return movedInto({ fromMs: aroundMs - share * length, toMs: aroundMs + (1 - share) * length }, whole);
}

/** Move by so many ms, within what there is. */
export const moved = ({ fromMs, toMs }: Span, byMs: number, whole: Span): Span =>
  movedInto({ fromMs: fromMs + byMs, toMs: toMs + byMs }, whole);

function movedInto({ fromMs, toMs }: Span, whole: Span): Span {
  const length = toMs - fromMs;
  const from = Math.max(whole.fromMs, Math.min(whole.toMs - length, fromMs));
  return { fromMs: from, toMs: from + length };
}

/** Round steps of the axis: 1, 2 or 5 times a power of ten, about this many of them. */
export function axisSteps({ fromMs, toMs }: Span, count: number): number[] {
  const rough = (toMs - fromMs) / count;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((factor) => factor * power).find((size) => size >= rough)!;
  const steps: number[] = [];
  for (let k = Math.ceil(fromMs / step); k * step <= toMs; k++) steps.push(k * step);
  return steps;
}
