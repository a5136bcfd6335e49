import type { PortReads, TraceEvent, TraceSink } from '../../trace/trace.ts';

/** Reads of one port since the recording began, as a column of ticks and one of values. */
export interface RecordedReads {
  readonly ticks: readonly number[];
  readonly values: readonly number[];
}

export interface RegisterWrite {
  readonly tick: number;
  readonly address: number;
  readonly value: number;
}

/** Bit 4 of a read of a light sensor's port: the trigger's contact is closed. */
const CONTACT = 0x10;

/** The trace of a shot from a tick on: what cause finding may know of the program. */
export class ShotRecord implements TraceSink {
  readonly fromTick: number;
  readonly nmiTicks: number[] = [];
  readonly vblankTicks: number[] = [];
  readonly writes: RegisterWrite[] = [];
  /** Ticks of the ends of sprite DMAs. */
  readonly dmaEnds: number[] = [];
  jam: Extract<TraceEvent, { kind: 'jam' }> | undefined;
  readonly #reads: readonly [Reads, Reads] = [newReads(), newReads()];

  constructor(fromTick: number) {
    this.fromTick = fromTick;
  }

  put(event: TraceEvent): void {
    if (event.tick < this.fromTick) return;
    switch (event.kind) {
      case 'port-read':
        this.#addRead(event.port, event.tick, event.value);
        break;
      case 'nmi-raised':
        this.nmiTicks.push(event.tick);
        break;
      case 'vblank':
        this.vblankTicks.push(event.tick);
        break;
      case 'register-write':
        this.writes.push(event);
        break;
      case 'dma':
        this.dmaEnds.push(event.endTick);
        break;
      case 'jam':
        this.jam = event;
        break;
      default:
    }
  }

  putPortReads({ tick, step, count, port, value }: PortReads): void {
    for (let k = 0; k < count; k++) {
      if (tick + k * step >= this.fromTick) this.#addRead(port, tick + k * step, value);
    }
  }

  #addRead(port: 1 | 2, tick: number, value: number): void {
    const { ticks, values } = this.#reads[port - 1]!;
    ticks.push(tick);
    values.push(value);
  }

  readsOf(port: 1 | 2): RecordedReads {
    return this.#reads[port - 1]!;
  }

  /** Tick of the first read that found the trigger's contact closed, at or after a tick. */
  firstClosedRead(port: 1 | 2, fromTick: number): number | undefined {
    const { ticks, values } = this.readsOf(port);
    return ticks.find((tick, i) => tick >= fromTick && (values[i]! & CONTACT) !== 0);
  }
}

interface Reads {
  readonly ticks: number[];
  readonly values: number[];
}

const newReads = (): Reads => ({ ticks: [], values: [] });
