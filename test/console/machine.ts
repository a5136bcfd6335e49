import type { Console, StartAlignment } from '../../src/console/console.ts';
import { FastConsole } from '../../src/console/fast/fast-console.ts';
import type { PortDevice, Surroundings } from '../../src/console/ports.ts';
import { ReferenceConsole } from '../../src/console/reference/reference-console.ts';
import { PictureHistory } from '../../src/picture/picture.ts';
import { parseImage } from '../../src/program/image.ts';
import { putEach, type TraceEvent, type TraceRequest, type TraceSink } from '../../src/trace/trace.ts';
import { TIMINGS, type TimingId } from '../../src/units/timing.ts';

export interface MachineSetting {
  readonly timing?: TimingId;
  readonly devices?: readonly [PortDevice, PortDevice];
  readonly surroundings?: Partial<Surroundings>;
  readonly alignment?: Partial<StartAlignment>;
  readonly request?: Partial<TraceRequest>;
  /** The reference by default. */
  readonly engine?: 'reference' | 'fast';
  /** Of the fast console. */
  readonly skipsLoops?: boolean;
  /** The trace takes many equal port reads at once. */
  readonly takesPortReads?: boolean;
}

export interface Machine {
  readonly console: Console;
  readonly events: TraceEvent[];
  readonly history: PictureHistory;
  /** Run for this many processor cycles from power-on. */
  runToCycle(cycle: number): void;
}

/** A 32 KiB program: pieces of machine code by address, and the three vectors. */
export function programOf(
  pieces: Readonly<Record<number, readonly number[]>>,
  vectors: { nmi?: number; reset?: number; irq?: number },
): Uint8Array {
  const image = new Uint8Array(16 + 0x8000 + 0x2000).fill(0xea, 16, 16 + 0x8000);
  image.set([0x4e, 0x45, 0x53, 0x1a, 2, 1, 0, 8]);
  for (const [address, bytes] of Object.entries(pieces)) image.set(bytes, 16 + Number(address) - 0x8000);
  const word = (value: number): number[] => [value & 0xff, value >> 8];
  image.set(
    [...word(vectors.nmi ?? 0xfff0), ...word(vectors.reset ?? 0x8000), ...word(vectors.irq ?? 0xfff0)],
    16 + 0x7ffa,
  );
  if (!(0xfff0 in pieces)) image[16 + 0x7ff0] = 0x40; // RTI
  return image;
}

/** A console with a program in it, and everything that it reports. */
export function machineWith(image: Uint8Array, setting: MachineSetting = {}): Machine {
  const timing = TIMINGS[setting.timing ?? '60hz'];
  const history = new PictureHistory(8);
  const events: TraceEvent[] = [];
  const Engine = setting.engine === 'fast' ? FastConsole : ReferenceConsole;
  const sink: TraceSink = { put: (event) => events.push(event) };
  if (setting.takesPortReads === true) sink.putPortReads = (reads) => putEach(reads, { put: sink.put });
  const console = new Engine({
    timing,
    image: parseImage(image),
    devices: setting.devices ?? ['none', 'none'],
    surroundings: { readLight: () => 0, isTriggerClosed: () => false, buttons: () => 0, ...setting.surroundings },
    history,
    trace: sink,
    request: { fetches: [], writes: [], reads: [], ...setting.request },
    alignment: { cpuPhaseTicks: 0, putParity: 0, ...setting.alignment },
    ...(setting.skipsLoops === undefined ? {} : { skipsLoops: setting.skipsLoops }),
    hooks: { targetsForNextPicture: () => [] },
  });
  const phase = setting.alignment?.cpuPhaseTicks ?? 0;
  return { console, events, history, runToCycle: (cycle) => console.runUntil(phase + cycle * timing.cpuDivider) };
}

/** Events of one kind. */
export const eventsOf = <Kind extends TraceEvent['kind']>(events: readonly TraceEvent[], kind: Kind) =>
  events.filter((event): event is Extract<TraceEvent, { kind: Kind }> => event.kind === kind);
