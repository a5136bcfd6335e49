/**
 * What the program did, and when: the only thing that judging and cause finding see of the console.
 * Every tick is the start of the processor cycle of the access, or the first tick of the dot of a raster event.
 */
export type TraceEvent =
  | { readonly kind: 'frame-start'; readonly tick: number; readonly index: number }
  /** The vblank flag's dot, whether or not an NMI is enabled. Probes are evaluated here. */
  | { readonly kind: 'vblank'; readonly tick: number }
  | {
      readonly kind: 'port-read';
      readonly tick: number;
      readonly port: 1 | 2;
      readonly value: number;
      readonly pc: number;
    }
  | { readonly kind: 'nmi-raised'; readonly tick: number }
  | { readonly kind: 'nmi-served'; readonly tick: number }
  | { readonly kind: 'irq-served'; readonly tick: number }
  | { readonly kind: 'dma'; readonly tick: number; readonly endTick: number; readonly what: 'sprite' }
  | { readonly kind: 'register-write'; readonly tick: number; readonly address: number; readonly value: number }
  /** Fetch at, write to or read of an address that was asked for. */
  | { readonly kind: 'fetch'; readonly tick: number; readonly address: number }
  | { readonly kind: 'write'; readonly tick: number; readonly address: number; readonly value: number }
  | { readonly kind: 'read'; readonly tick: number; readonly address: number; readonly value: number }
  | { readonly kind: 'jam'; readonly tick: number; readonly address: number; readonly opcode: number };

/** Reads of one port that are equal but for their ticks: `count` events 'port-read', `step` ticks from one to the next. */
export interface PortReads {
  /** Tick of the first. */
  readonly tick: number;
  readonly step: number;
  readonly count: number;
  readonly port: 1 | 2;
  readonly value: number;
  readonly pc: number;
}

/** Where a console puts its events, in the order in which they happen. */
export interface TraceSink {
  put(event: TraceEvent): void;
  /** The reads of rounds of a loop that have been skipped. Not given: they are put one by one. */
  putPortReads?(reads: PortReads): void;
}

/** Put the reads one by one. */
export function putEach(reads: PortReads, sink: TraceSink): void {
  const { tick, step, count, port, value, pc } = reads;
  for (let i = 0; i < count; i++) sink.put({ kind: 'port-read', tick: tick + i * step, port, value, pc });
}

/** Addresses whose fetch, write or read the console reports. */
export interface TraceRequest {
  readonly fetches: readonly number[];
  readonly writes: readonly number[];
  readonly reads: readonly number[];
}
