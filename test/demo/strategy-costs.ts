import type { AssemblyResult } from '../../src/program/assembler/assembler.ts';
import type { TraceEvent } from '../../src/trace/trace.ts';
import { type TimingId, ticksPerFrame, ticksToMs } from '../../src/units/timing.ts';
import { assembledProgram, Lamplighter, type LamplighterProgram, type Strategy, screen } from '../lamplighter.ts';

/** What a strategy asks of the console, measured in one shot at nothing; the calibrated one measures the screen before. */
export interface StrategyCosts {
  /** Longest time between two reads of the light device's port, from the first picture of the shot to the verdict. */
  readonly longestGapCycles: number;
  readonly longestGapUs: number;
  /** `show` with its sprite DMA: fewest and most cycles; and the end of it, counted from the NMI. */
  readonly showCycles: readonly [least: number, most: number];
  readonly showEndsAfterNmi: number;
  /** From the interrupt to the first read of the port behind the handler: fewest and most cycles. */
  readonly cyclesToFirstRead: readonly [least: number, most: number];
  /** `decide` while undecided, with its return. */
  readonly decideCycles: readonly [least: number, most: number];
  /** `decide` when it decides. */
  readonly verdictCycles: number;
  readonly framesToDecide: number;
  /** 0 none; anything else takes other light for a box. */
  readonly verdict: number;
  /** Pictures of the shot that are not the scene, the black ones of them, and times that a box or white appears. */
  readonly pictures: number;
  readonly blackPictures: number;
  readonly flashes: number;
  /** Bytes of the strategy's own source files; the program around it is not counted. */
  readonly romBytes: number;
  readonly ramBytes: number;
}

const AFTER_DECIDE = ['after_decide', 'after_decide_dark', 'after_decide_lit'];
const NOWHERE = { x: 90, y: 70 };
const SHOW_SCENE = 5;

type Assembled = LamplighterProgram & Pick<AssemblyResult, 'sourceMap'>;

/** Assemble a strategy, with sources changed on the way, and measure it. `delayMs`: how late the LCD of the shot is. */
export function strategyCosts(
  strategy: Strategy,
  timing: TimingId,
  delayMs: number,
  change: (path: string, text: string) => string = (_, text) => text,
): StrategyCosts {
  const { image, symbols, sourceMap, errors } = assembledProgram(strategy, change);
  if (image === null) throw new Error(errors.map(({ message }) => message).join('; '));
  return measure({ image, symbols, sourceMap }, strategy, timing, delayMs);
}

/** The costs on LCDs of several delays: one a delay of `framesToDecide` and `verdict`, of all else the least and the most. */
export type CostsOverDelays = Readonly<Record<keyof StrategyCosts | 'delaysMs', readonly number[]>>;

/** Measure a strategy on the LCDs that its page speaks of. */
export function costsOverDelays(strategy: Strategy, timing: TimingId): CostsOverDelays {
  const delaysMs = strategy === 'calibrated' ? [0, 50, 200] : [0, 50];
  const costs = delaysMs.map((delayMs) => strategyCosts(strategy, timing, delayMs));
  const keys = Object.keys(costs[0]!) as (keyof StrategyCosts)[];
  const spans = Object.fromEntries(keys.map((key) => [key, span(costs.flatMap((each) => each[key]))]));
  return {
    ...(spans as Record<keyof StrategyCosts, number[]>),
    delaysMs,
    framesToDecide: costs.map((each) => each.framesToDecide),
    verdict: costs.map((each) => each.verdict),
  };
}

/** The least and the most, or the one number that all are. */
export const span = (values: readonly number[]): number[] => [...new Set(range(values))];

function measure(program: Assembled, strategy: Strategy, timing: TimingId, delayMs: number): StrategyCosts {
  const events: TraceEvent[] = [];
  const named = (name: string): number[] => {
    const address = program.symbols.get(name);
    return address === undefined ? [] : [address];
  };
  const fetches = ['show', 'shown', 'decide', ...AFTER_DECIDE].flatMap(named);
  const machine: Lamplighter = new Lamplighter({
    program,
    timing,
    path: screen(delayMs),
    request: { fetches, writes: named('verdict') },
    onEvent: (event) => events.push(event),
  });
  reachPractice(machine, strategy === 'calibrated', delayMs);
  machine.aimAt(NOWHERE);
  machine.runMs(700 + delayMs);
  events.length = 0;
  machine.pull();
  machine.runMs(1000 + 2 * delayMs);
  return { ...timesOf(machine, events, program), ...sizesOf(program) };
}

function reachPractice(machine: Lamplighter, isCalibrated: boolean, delayMs: number): void {
  machine.startPractice(400 + delayMs);
  if (!isCalibrated) return;
  machine.pull();
  if (!machine.runUntil(() => machine.says('PRACTICE'), 600)) throw new Error(machine.text().join('\n'));
}

const range = (values: readonly number[]): [number, number] => [Math.min(...values), Math.max(...values)];

function timesOf(machine: Lamplighter, events: readonly TraceEvent[], { symbols }: Assembled) {
  const { timing } = machine;
  const cycles = (ticks: number): number => ticks / timing.cpuDivider;
  const at = (name: string): number | undefined => symbols.get(name);
  const fetched = (name: string) =>
    events.filter((event) => event.kind === 'fetch' && event.address === at(name)).map(({ tick }) => tick);
  const said = events.find((event) => event.kind === 'write' && event.address === at('verdict'));
  if (said === undefined) throw new Error('the shot had no verdict');
  const shows = fetched('show');
  const shown = fetched('shown');
  const served = events.filter(({ kind }) => kind === 'nmi-served').map(({ tick }) => tick);
  const before = (tick: number): number => served.filter((other) => other < tick).at(-1)!;
  const reads = events
    .filter(
      (event) => event.kind === 'port-read' && event.port === 2 && event.tick > shown[0]! && event.tick < said.tick,
    )
    .map(({ tick }) => tick);
  const gaps = reads.slice(1).map((tick, i) => tick - reads[i]!);
  const decides = fetched('decide');
  const returns = AFTER_DECIDE.flatMap(fetched).sort((a, b) => a - b);
  const took = decides.map((tick) => cycles(returns.find((other) => other > tick)! - tick));
  const firstRead = shown.map((tick) => reads.find((other) => other > tick)).filter((tick) => tick !== undefined);
  return {
    longestGapCycles: cycles(Math.max(...gaps)),
    longestGapUs: ticksToMs(timing, Math.max(...gaps)) * 1000,
    showCycles: range(shows.map((tick, i) => cycles(shown[i]! - tick))),
    showEndsAfterNmi: Math.max(...shown.map((tick) => cycles(tick - before(tick)))),
    cyclesToFirstRead: range(firstRead.slice(0, -1).map((tick) => cycles(tick - before(tick)))),
    decideCycles: range(took.slice(0, -1)),
    verdictCycles: took.at(-1)!,
    framesToDecide: (said.tick - shows[0]!) / ticksPerFrame(timing) + 1,
    verdict: machine.byte('verdict'),
    ...picturesOf(machine),
  };
}

/** What the script of the latest shot showed. */
function picturesOf(machine: Lamplighter) {
  const script = Array.from({ length: 16 }, (_, i) => machine.byte('script', i));
  const isFlash = (shows: number | undefined): boolean => shows !== undefined && shows >= 1 && shows <= 4;
  return {
    pictures: script.indexOf(SHOW_SCENE),
    blackPictures: script.filter((shows) => shows === 0).length,
    flashes: script.filter((shows, i) => isFlash(shows) && shows !== script[i - 1]).length,
  };
}

function sizesOf({ sourceMap }: Assembled) {
  const own = sourceMap.spans.filter(({ place, calls }) =>
    [place, ...calls].some(({ file }) => file.includes('strategies/')),
  );
  const bytes = (inRom: boolean): number =>
    own.filter(({ imageOffset }) => (imageOffset !== null) === inRom).reduce((sum, { length }) => sum + length, 0);
  return { romBytes: bytes(true), ramBytes: bytes(false) };
}
