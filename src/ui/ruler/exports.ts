import { TIMINGS } from '../../units/timing.ts';
import { msOfTick, type ShotClock, type ShotLanes, type ShotMark, tickOfMs } from '../../workers/play.api.ts';
import { litReader } from './program-lanes.ts';
import { drawRuler } from './ruler-drawing.ts';
import type { RulerLayout } from './ruler-layout.ts';
import type { RulerView } from './ruler-view.ts';
import { SvgPen } from './svg-pen.ts';

/** The ruler as it is seen, as an SVG file. */
export function rulerSvg(layout: RulerLayout, view: RulerView): string {
  const pen = new SvgPen();
  drawRuler(pen, layout, view);
  return pen.file(layout.width, layout.height, 'Time ruler of a shot', view.colours.sheet);
}

const COLUMNS = [
  'time_ms',
  'light_least_cd_m2',
  'light_largest_cd_m2',
  'sensor_least_cd_m2',
  'sensor_largest_cd_m2',
  'threshold_cd_m2',
  'bit',
  'frame',
  'event',
  'detail',
];
/** Digits that 32-bit values have. */
const DIGITS = 7;
const NO_CURVES = ['', '', '', '', ''];

/** A line of the values: at a time, the curves or something that happened then. */
interface Row {
  readonly ms: number;
  readonly curves: readonly string[];
  readonly event: string;
  readonly detail: string;
}

/**
 * The whole shot as comma-separated values (RFC 4180), in order of time, ms after the trigger: a line for each column of the
 * curves with its begin, and one for each frame, read of the port, instant of the shot, and for the decision. `bit` and
 * `frame` are those of that time: the bit is what a read sees.
 */
export function lanesCsv(lanes: ShotLanes, marks: readonly ShotMark[]): string {
  const { clock, lit, toMs } = lanes;
  const rows = [...curveRows(lanes), ...eventRows(lanes, marks)].filter(({ ms }) => ms < toMs);
  rows.sort((a, b) => a.ms - b.ms);
  const isLit = litReader(lit);
  const starts = clock.frameTicks.map((tick) => msOfTick(clock, tick));
  let k = -1;
  const lines = rows.map(({ ms, curves, event, detail }) => {
    while (k + 1 < starts.length && starts[k + 1]! <= ms) k++;
    const frame = k < 0 ? '' : String(clock.firstFrame + k);
    return [ms.toFixed(6), ...curves, isLit(ms) ? '1' : '0', frame, event, field(detail)].join(',');
  });
  return [COLUMNS.join(','), ...lines, ''].join('\r\n');
}

/** A text as a field: in quotes where it has signs that part fields. */
const field = (text: string): string => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

function curveRows({ fromMs, toMs, light, sensor, threshold }: ShotLanes): Row[] {
  const value = (one: number): string => String(Number(one.toPrecision(DIGITS)));
  const columnMs = (toMs - fromMs) / threshold.length;
  return Array.from(threshold, (level, column) => {
    const pairs = [light, sensor].flatMap((pair) => [pair[2 * column]!, pair[2 * column + 1]!]);
    return { ms: fromMs + column * columnMs, curves: [...pairs.map(value), value(level)], event: '', detail: '' };
  });
}

function eventRows(
  { fromMs, clock, pictures, reads, readCodes, codes, said }: ShotLanes,
  marks: readonly ShotMark[],
): Row[] {
  const row = (ms: number, event: string, detail: string): Row => ({ ms, curves: NO_CURVES, event, detail });
  const names = new Map(pictures.map(({ frame, name }) => [frame, name]));
  return [
    ...clock.frameTicks.map((tick, k) => row(msOfTick(clock, tick), 'frame', names.get(clock.firstFrame + k) ?? '')),
    ...Array.from(reads, (ms, i) => row(ms, 'read', codes[readCodes[i]!] ?? '')),
    ...marks.map(({ ms, title }) => row(ms, 'instant', title)),
    ...(said === null ? [] : [row(said.ms, 'decision', said.text)]),
  ].filter(({ ms }) => ms >= fromMs);
}

/** Identifier codes of the dump: letters, that no reader takes for a keyword or a time. */
const CODES = { trigger: 'T', bit: 'L', read: 'R', frame: 'F', decision: 'D' } as const;
const PS_PER_S = 1e12;

/**
 * Trigger, light bit, port reads, frames and the decision as a value change dump. Source: IEEE Std 1364-2005, clause 18 (from memory).
 * Time 0 is the begin of the ruler. Its unit is 1 ps: a tick is no whole number of it, so every tick is rounded to the
 * nearest ps, by which ticks stay apart and can be got back.
 */
export function lanesVcd(lanes: ShotLanes): string {
  const { clock } = lanes;
  const start = tickOfMs(clock, lanes.fromMs);
  const changes = changesOf(lanes, clock).filter(({ tick }) => tick >= start);
  changes.sort((a, b) => a.tick - b.tick);
  const isLitAtStart = changes.some(({ tick, text }) => tick === start && text === `1${CODES.bit}`);
  const frame = clock.firstFrame + clock.frameTicks.findLastIndex((tick) => tick <= start);
  let body = `#0\n$dumpvars\n${isLitAtStart ? 1 : 0}${CODES.bit}\nb${binary(Math.max(0, frame))} ${CODES.frame}\n$end\n`;
  let latest = 0;
  for (const { tick, text } of changes) {
    const time = picoseconds(clock, tick - start);
    if (time !== latest) body += `#${time}\n`;
    latest = time;
    body += `${text}\n`;
  }
  return `${header(lanes, start)}${body}#${picoseconds(clock, tickOfMs(clock, lanes.toMs) - start)}\n`;
}

const binary = (value: number): string => value.toString(2);

interface Change {
  readonly tick: number;
  readonly text: string;
}

function changesOf({ lit, reads, said, toMs }: ShotLanes, clock: ShotClock): Change[] {
  const end = tickOfMs(clock, toMs);
  return [
    { tick: clock.triggerTick, text: `1${CODES.trigger}` },
    ...lit.flatMap((stretch) => [
      { tick: tickOfMs(clock, stretch.fromMs), text: `1${CODES.bit}` },
      { tick: tickOfMs(clock, stretch.toMs), text: `0${CODES.bit}` },
    ]),
    ...Array.from(reads, (ms) => ({ tick: tickOfMs(clock, ms), text: `1${CODES.read}` })),
    ...(said === null ? [] : [{ tick: tickOfMs(clock, said.ms), text: `1${CODES.decision}` }]),
    ...clock.frameTicks.map((tick, k) => ({ tick, text: `b${binary(clock.firstFrame + k)} ${CODES.frame}` })),
  ].filter(({ tick }) => tick < end);
}

/** Ticks as whole picoseconds. */
function picoseconds({ timing }: ShotClock, ticks: number): number {
  const { masterNumerator, masterDenominator } = TIMINGS[timing];
  return Math.round((ticks * masterDenominator * PS_PER_S) / masterNumerator);
}

function header({ clock: { timing }, said }: ShotLanes, start: number): string {
  const decision = said === null ? '' : `\n$comment Decision: ${said.text} $end`;
  const { masterNumerator, masterDenominator } = TIMINGS[timing];
  return `$version Latelight $end
$comment Time 0 is tick ${start} since power-on; ${masterNumerator}/${masterDenominator} ticks a second, each rounded to the nearest ps. $end${decision}
$timescale 1 ps $end
$scope module shot $end
$var event 1 ${CODES.trigger} trigger $end
$var wire 1 ${CODES.bit} light_bit $end
$var event 1 ${CODES.read} port_read $end
$var integer 32 ${CODES.frame} frame $end
$var event 1 ${CODES.decision} decision $end
$upscope $end
$enddefinitions $end
`;
}
