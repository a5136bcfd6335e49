import type { LineRange, PictureHistory, TargetRectangle } from '../picture/picture.ts';
import type { CartridgeImage } from '../program/image.ts';
import type { TraceRequest, TraceSink } from '../trace/trace.ts';
import type { Timing } from '../units/timing.ts';
import type { SlotState } from './cartridge/slot.ts';
import type { CpuState } from './cpu/reference-cpu.ts';
import type { PortDevice, PortsState, Surroundings } from './ports.ts';
import type { RasterState } from './raster/reference-raster.ts';

/** How processor, raster and DMA stand to each other when power comes on. On hardware it is random. */
export interface StartAlignment {
  /** Ticks from the raster's (0, 0) to the start of the first processor cycle: 0 to one cycle less one tick. */
  readonly cpuPhaseTicks: number;
  /** Whether even processor cycles are get cycles (0) or put cycles (1). */
  readonly putParity: 0 | 1;
}

export interface ConsoleSetup {
  readonly timing: Timing;
  readonly image: CartridgeImage;
  readonly devices: readonly [PortDevice, PortDevice];
  readonly surroundings: Surroundings;
  readonly history: PictureHistory;
  readonly trace: TraceSink;
  readonly request: TraceRequest;
  readonly alignment: StartAlignment;
  /** Scanlines that anybody will look at; all when not given. The reference draws all of them in any case. */
  readonly draws?: LineRange;
  /** Whether the fast console skips rounds of waiting loops (default) or runs them all; both give the same bytes. */
  readonly skipsLoops?: boolean;
  readonly hooks: { targetsForNextPicture(): readonly TargetRectangle[] };
}

/** Everything of the console that must be kept to go on identically; plain data. */
export interface ConsoleState {
  readonly cycle: number;
  readonly dataBus: number;
  readonly ram: Uint8Array;
  /** Page of a sprite DMA that waits for the next read cycle; -1 when none does. */
  readonly dmaPage: number;
  readonly cpu: CpuState;
  readonly raster: RasterState;
  readonly ports: PortsState;
  readonly slot: SlotState;
}

/** The modelled machine. Pure and deterministic; cutting `runUntil` anywhere changes nothing. */
export interface Console {
  /** Tick of the start of the next processor cycle. */
  readonly tick: number;
  /** Run whole instructions until the next one would start at or after `tick`. */
  runUntil(tick: number): void;
  /** Look at the processor's memory without any side effect; registers and unmapped places give 0. */
  peek(address: number): number;
  readonly isJammed: boolean;
  save(): ConsoleState;
  load(state: ConsoleState): void;
}
