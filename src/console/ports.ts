/** What is plugged into a port. */
export type PortDevice = 'none' | 'pad' | 'light sensor' | 'pad and light sensor';

const hasPad = (device: PortDevice): boolean => device === 'pad' || device === 'pad and light sensor';
const hasSensor = (device: PortDevice): boolean => device === 'light sensor' || device === 'pad and light sensor';

/** The world outside the console, asked at the exact tick of a port read. */
export interface Surroundings {
  /** 1 = the sensor sees light. */
  readLight(port: 1 | 2, tick: number): 0 | 1;
  /** The trigger's contact: closed while it is half way pulled. */
  isTriggerClosed(port: 1 | 2, tick: number): boolean;
  /** Buttons held, bit 0 = A, then B Select Start Up Down Left Right. */
  buttons(port: 1 | 2, tick: number): number;
  /**
   * The first tick, after the one given, at which the light bit or the trigger's contact may differ from what they are at
   * the one given; earlier is always right, later never. Asked like `readLight`, at the tick of a read, and must change
   * nothing that could be seen. Not given: loops that look at the light are not skipped.
   */
  lightConstantUntil?(port: 1 | 2, tick: number): number;
}

/** Plain data of one port: the pad's shift register and the run of reads in progress. */
export interface PortState {
  /** Buttons latched at the end of the strobe, shifted right by each run of reads; ones enter from the left. */
  shift: number;
  /** Processor cycle of the latest read; reads in neighbouring cycles are one run and shift once. */
  lastReadCycle: number;
  /** A run of reads has ended or is in progress and its shift is still to be done. */
  isShiftDue: boolean;
}

/**
 * Ports $4016 and $4017 with their pads and light sensors.
 *
 * Lines as the program reads them: bit 0 the pad; bit 3 = 0 while the sensor sees light; bit 4 = 1 while the trigger's
 * contact is closed. An empty port reads 0, so it looks like "light seen, trigger open".
 * Source: hardware documentation wiki, "Controller reading", "Standard controller" and the light input device's page.
 */
export class Ports {
  readonly #devices: readonly [PortDevice, PortDevice];
  readonly #surroundings: Surroundings;
  #isStrobeHigh = false;
  #ports: [PortState, PortState] = [newPort(), newPort()];

  constructor(devices: readonly [PortDevice, PortDevice], surroundings: Surroundings) {
    this.#devices = devices;
    this.#surroundings = surroundings;
  }

  /** Bits 4..0 of a read in this processor cycle. */
  read(port: 1 | 2, cycle: number, tick: number): number {
    const device = this.#devices[port - 1]!;
    const pad = hasPad(device) ? this.#readPad(port, cycle, tick) : 0;
    return hasSensor(device) ? pad | this.#readSensor(port, tick) : pad;
  }

  #readSensor(port: 1 | 2, tick: number): number {
    const light = this.#surroundings.readLight(port, tick) === 1 ? 0 : 0x08;
    return light | (this.#surroundings.isTriggerClosed(port, tick) ? 0x10 : 0);
  }

  /**
   * From this tick to before the one answered, every read gives what `read` gives at this tick, and only the latest of them
   * leaves a trace. An answer not after `tick` = this cannot be said.
   */
  steadyUntil(port: 1 | 2, tick: number): number {
    const device = this.#devices[port - 1]!;
    // After eight shifts only ones come from a pad.
    if (hasPad(device) && (this.#isStrobeHigh || this.#ports[port - 1]!.shift !== 0xff)) return tick;
    if (hasSensor(device)) return this.#surroundings.lightConstantUntil?.(port, tick) ?? tick;
    return Number.POSITIVE_INFINITY;
  }

  /** What `read` would give in a tick before `steadyUntil`; changes nothing. */
  peekSteady(port: 1 | 2, cycle: number, tick: number): number {
    const device = this.#devices[port - 1]!;
    if (!hasPad(device)) return this.read(port, cycle, tick);
    return hasSensor(device) ? 1 | this.#readSensor(port, tick) : 1;
  }

  /** The latest of several reads before `steadyUntil`, carried out. */
  endSteadyReads(port: 1 | 2, cycle: number, tick: number): void {
    if (hasPad(this.#devices[port - 1]!)) this.#readPad(port, cycle, tick);
  }

  /** A write to $4016: bit 0 is the strobe of both pads. While it is high the pads load their buttons. */
  writeStrobe(value: number, tick: number): void {
    const isHigh = (value & 1) === 1;
    for (const port of [1, 2] as const) {
      if (!isHigh && !this.#isStrobeHigh) continue;
      const state = this.#ports[port - 1]!;
      state.shift = hasPad(this.#devices[port - 1]!) ? this.#surroundings.buttons(port, tick) & 0xff : 0;
      state.isShiftDue = false;
    }
    this.#isStrobeHigh = isHigh;
  }

  #readPad(port: 1 | 2, cycle: number, tick: number): number {
    const state = this.#ports[port - 1]!;
    if (this.#isStrobeHigh) return this.#surroundings.buttons(port, tick) & 1;
    const isSameRun = state.lastReadCycle === cycle - 1;
    if (state.isShiftDue && !isSameRun) state.shift = (state.shift >> 1) | 0x80;
    state.isShiftDue = true;
    state.lastReadCycle = cycle;
    return state.shift & 1;
  }

  save(): PortsState {
    return { isStrobeHigh: this.#isStrobeHigh, ports: [{ ...this.#ports[0] }, { ...this.#ports[1] }] };
  }

  load(state: PortsState): void {
    this.#isStrobeHigh = state.isStrobeHigh;
    this.#ports = [{ ...state.ports[0] }, { ...state.ports[1] }];
  }
}

export interface PortsState {
  readonly isStrobeHigh: boolean;
  readonly ports: readonly [PortState, PortState];
}

const newPort = (): PortState => ({ shift: 0, lastReadCycle: -2, isShiftDue: false });
