import { TIMINGS } from '../../units/timing.ts';
import { type ShotClock, type ShotLanes, tickOfMs } from '../../workers/play.api.ts';
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
];
/** Digits that 32-bit values have. */
const DIGITS = 7;

/**
 * The curves as comma-separated values (RFC 4180): a line for each column of the lanes with its begin in ms after the
 * trigger; `bit` is that at the begin.
 */
export function lanesCsv({ fromMs, toMs, light, sensor, threshold, lit }: ShotLanes): string {
  const value = (one: number): string => String(Number(one.toPrecision(DIGITS)));
  const columnMs = (toMs - fromMs) / threshold.length;
  let row = 0;
  const lines = Array.from(threshold, (level, column) => {
    const ms = fromMs + column * columnMs;
    while (row < lit.length && lit[row]!.toMs <= ms) row++;
    const bit = row < lit.length && lit[row]!.fromMs <= ms ? '1' : '0';
    const pairs = [light, sensor].flatMap((pair) => [pair[2 * column]!, pair[2 * column + 1]!]);
    return [ms.toFixed(6), ...pairs.map(value), value(level), bit].join(',');
  });
  return [COLUMNS.join(','), ...lines, ''].join('\r\n');
}

/** Identifier codes of the dump: letters, that no reader takes for a keyword or a time. */
const CODES = { trigger: 'T', bit: 'L', read: 'R', frame: 'F' } as const;
const PS_PER_S = 1e12;

/**
 * Trigger, light bit, port reads and frames as a value change dump. Source: IEEE Std 1364-2005, clause 18 (from memory).
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
  return `${header(clock, start)}${body}#${picoseconds(clock, tickOfMs(clock, lanes.toMs) - start)}\n`;
}

const binary = (value: number): string => value.toString(2);

interface Change {
  readonly tick: number;
  readonly text: string;
}

function changesOf({ lit, reads, toMs }: ShotLanes, clock: ShotClock): Change[] {
  const end = tickOfMs(clock, toMs);
  return [
    { tick: clock.triggerTick, text: `1${CODES.trigger}` },
    ...lit.flatMap((stretch) => [
      { tick: tickOfMs(clock, stretch.fromMs), text: `1${CODES.bit}` },
      { tick: tickOfMs(clock, stretch.toMs), text: `0${CODES.bit}` },
    ]),
    ...Array.from(reads, (ms) => ({ tick: tickOfMs(clock, ms), text: `1${CODES.read}` })),
    ...clock.frameTicks.map((tick, k) => ({ tick, text: `b${binary(clock.firstFrame + k)} ${CODES.frame}` })),
  ].filter(({ tick }) => tick < end);
}

/** Ticks as whole picoseconds. */
function picoseconds({ timing }: ShotClock, ticks: number): number {
  const { masterNumerator, masterDenominator } = TIMINGS[timing];
  return Math.round((ticks * masterDenominator * PS_PER_S) / masterNumerator);
}

function header({ timing }: ShotClock, start: number): string {
  const { masterNumerator, masterDenominator } = TIMINGS[timing];
  return `$version Latelight $end
$comment Time 0 is tick ${start} since power-on; ${masterNumerator}/${masterDenominator} ticks a second, each rounded to the nearest ps. $end
$timescale 1 ps $end
$scope module shot $end
$var event 1 ${CODES.trigger} trigger $end
$var wire 1 ${CODES.bit} light_bit $end
$var event 1 ${CODES.read} port_read $end
$var integer 32 ${CODES.frame} frame $end
$upscope $end
$enddefinitions $end
`;
}
