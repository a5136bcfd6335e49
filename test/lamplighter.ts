import { readFileSync } from 'node:fs';
import type { Console, StartAlignment } from '../src/console/console.ts';
import { FastConsole } from '../src/console/fast/fast-console.ts';
import type { Surroundings } from '../src/console/ports.ts';
import { ReferenceConsole } from '../src/console/reference/reference-console.ts';
import { historyCapacity, LightPath, type LightPathSettings } from '../src/light/light-path.ts';
import type { Aim } from '../src/light/optics/optics.ts';
import { type LineRange, type Picture, PictureHistory } from '../src/picture/picture.ts';
import { assembleProgram } from '../src/program/assembler/assembler.ts';
import { parseImage } from '../src/program/image.ts';
import { parseLabels, type Symbols } from '../src/program/labels.ts';
import { symbolValues } from '../src/program/program-symbols.ts';
import { readLightPathSettings } from '../src/shot/light-path-settings.ts';
import type { TraceEvent, TraceRequest, TraceSink } from '../src/trace/trace.ts';
import {
  msToTicks,
  PICTURE_WIDTH,
  TIMINGS,
  type Timing,
  type TimingId,
  ticksPerFrame,
  ticksPerLine,
} from '../src/units/timing.ts';

export const LAMPLIGHTER = 'homebrew-demo/lamplighter';

export type Strategy = 'same-frame-untested' | 'same-frame-tested' | 'fixed-delay' | 'calibrated';
export const STRATEGIES: readonly Strategy[] = [
  'same-frame-untested',
  'same-frame-tested',
  'fixed-delay',
  'calibrated',
];

/** An image with its symbols. */
export interface LamplighterProgram {
  readonly image: Uint8Array;
  readonly symbols: Symbols;
}

/** The image and labels that are checked in. */
export const builtProgram = (strategy: Strategy): LamplighterProgram => ({
  image: new Uint8Array(readFileSync(`${LAMPLIGHTER}/${strategy}.bin`)),
  symbols: parseLabels(readFileSync(`${LAMPLIGHTER}/${strategy}.lbl`, 'utf8')),
});

/** Assemble the source, with texts of some files changed on the way. */
export function assembledProgram(strategy: Strategy, change: (path: string, text: string) => string) {
  const read = (path: string): Buffer | undefined => {
    try {
      return readFileSync(path);
    } catch {
      return undefined;
    }
  };
  const result = assembleProgram(`${LAMPLIGHTER}/${strategy}.s`, {
    readText: (path) => {
      const text = read(path)?.toString('utf8');
      return text === undefined ? undefined : change(path, text);
    },
    readBytes: read,
  });
  return { ...result, symbols: symbolValues(result.symbols) };
}

/** A light path as a scenario writes it: a late LCD or a tube, in a dim room. */
export function screen(delayMs: number, panel: Readonly<Record<string, unknown>> = { kind: 'lcd' }): LightPathSettings {
  const faults: string[] = [];
  const settings = readLightPathSettings(
    {
      stages: [delayMs - 500, Math.min(delayMs, 500)]
        .filter((ms) => ms > 0)
        .map((ms) => ({ kind: 'pure-delay', delayMs: ms })),
      panel,
      room: { kind: 'constant-light', illuminanceLux: 50 },
      optics: { kind: 'gaussian-spot', radiusDots: 6 },
      sensor: { kind: 'wide-band' },
    },
    faults,
  );
  if (faults.length > 0) throw new Error(faults.join('; '));
  return settings;
}

/** Whether the sensor sees light at a tick. */
export type LightRule = (tick: number, machine: Lamplighter) => boolean;

export interface LamplighterSetup {
  readonly strategy?: Strategy;
  readonly program?: LamplighterProgram;
  readonly timing?: TimingId;
  readonly alignment?: StartAlignment;
  readonly engine?: 'fast' | 'reference';
  /** A whole light path, or a rule of the test's own; dark when neither is given. */
  readonly path?: LightPathSettings;
  readonly light?: LightRule;
  readonly aim?: Aim;
  readonly draws?: LineRange;
  readonly request?: Partial<TraceRequest>;
  readonly onEvent?: (event: TraceEvent) => void;
}

const BUTTONS = { A: 1, B: 2, Select: 4, Start: 8 } as const;
export type LamplighterButton = keyof typeof BUTTONS;

/** A console with Lamplighter in it, a hand at pad and trigger, and light of some kind. */
export class Lamplighter implements Surroundings, TraceSink {
  readonly timing: Timing;
  readonly symbols: Symbols;
  readonly history: PictureHistory;
  readonly console: Console;
  readonly #setup: LamplighterSetup;
  readonly #light: LightPath | undefined;
  #held = 0;
  #isTriggerClosed = false;
  #until = 0;

  constructor(setup: LamplighterSetup) {
    const { image, symbols } = setup.program ?? builtProgram(setup.strategy ?? 'calibrated');
    this.#setup = setup;
    this.timing = TIMINGS[setup.timing ?? '60hz'];
    this.symbols = symbols;
    const { path, timing, aim = { x: 128, y: 120 } } = { ...setup, timing: this.timing };
    this.history = new PictureHistory(path === undefined ? 64 : historyCapacity(path, timing, true));
    if (path !== undefined) this.#light = new LightPath({ settings: path, timing, history: this.history, aim });
    const parts = {
      timing,
      image: parseImage(image),
      devices: ['pad', 'light sensor'] as const,
      surroundings: this,
      history: this.history,
      trace: this,
      request: { fetches: [], writes: [], reads: [], ...setup.request },
      alignment: setup.alignment ?? { cpuPhaseTicks: 0, putParity: 0 as const },
      hooks: { targetsForNextPicture: () => [] },
      ...(setup.draws === undefined ? {} : { draws: setup.draws }),
    };
    this.console = setup.engine === 'reference' ? new ReferenceConsole(parts) : new FastConsole(parts);
  }

  get tick(): number {
    return this.console.tick;
  }

  runMs(ms: number): void {
    this.#until += msToTicks(this.timing, ms);
    this.console.runUntil(this.#until);
  }

  runFrames(frames: number): void {
    this.#until += Math.round(frames * ticksPerFrame(this.timing));
    this.console.runUntil(this.#until);
  }

  /** Run until something holds, asking once a frame; false when it does not within so many frames. */
  runUntil(holds: () => boolean, frames: number): boolean {
    for (let i = 0; i < frames && !holds(); i++) this.runFrames(1);
    return holds();
  }

  hold(...buttons: readonly LamplighterButton[]): void {
    this.#held = buttons.reduce((sum, name) => sum | BUTTONS[name], 0);
  }

  /** Power on with Select held: straight to the practice street, or to the mark in the calibrated version. */
  startPractice(waitMs = 400): void {
    this.hold('Select');
    this.runMs(400);
    this.hold();
    this.runMs(waitMs);
  }

  /** Press a button for four frames, and let four more pass. */
  press(button: LamplighterButton): void {
    this.hold(button);
    this.runFrames(4);
    this.hold();
    this.runFrames(4);
  }

  set trigger(isClosed: boolean) {
    this.#isTriggerClosed = isClosed;
  }

  /** Close the trigger's contact for 80 ms. */
  pull(): void {
    this.trigger = true;
    this.runMs(80);
    this.trigger = false;
  }

  /** From now on the sensor points there. */
  aimAt(aim: Aim): void {
    this.#light?.moveAim({ tick: this.#until, aim });
  }

  address(name: string): number {
    const address = this.symbols.get(name);
    if (address === undefined) throw new Error(`Lamplighter has no symbol ${name}`);
    return address;
  }

  byte(name: string, offset = 0): number {
    return this.console.peek(this.address(name) + offset);
  }

  word(name: string, offset = 0): number {
    return this.byte(name, offset) | (this.byte(name, offset + 1) << 8);
  }

  /** The rows of the picture's text, without spaces around; tiles that are no letters show as "~". */
  text(): string[] {
    const { nameTables } = this.console.save().raster;
    return Array.from({ length: 30 }, (_, row) =>
      Array.from(nameTables.subarray(row * 32, row * 32 + 32), (tile) =>
        tile < 64 ? String.fromCharCode(tile + 32) : '~',
      )
        .join('')
        .trim(),
    );
  }

  /** Whether some row of the picture has this text. */
  says(words: string): boolean {
    return this.text().some((row) => row.includes(words));
  }

  /** The colour code at a dot in the latest picture whose scanline there had begun by a tick; undefined when it is not kept. */
  codeSentAt(tick: number, { x, y }: Aim): number | undefined {
    const start = tick - y * ticksPerLine(this.timing);
    this.history.drawer?.drawDue();
    let { newest: index } = this.history;
    while ((this.history.get(index)?.lineZeroTick ?? start) > start) index--;
    return this.history.get(index)?.codes[y * PICTURE_WIDTH + x];
  }

  /** The latest complete picture. */
  picture(): Picture {
    const { newest } = this.history;
    this.console.save();
    return this.history.get(newest - 1) ?? this.history.get(newest)!;
  }

  put(event: TraceEvent): void {
    if (event.kind === 'vblank') this.#light?.bitAt(event.tick);
    if (event.kind === 'jam') throw new Error(`jam at $${event.address.toString(16)}, tick ${event.tick}`);
    this.#setup.onEvent?.(event);
  }

  readLight(_port: 1 | 2, tick: number): 0 | 1 {
    if (this.#light !== undefined) return this.#light.bitAt(tick);
    return this.#setup.light?.(tick, this) === true ? 1 : 0;
  }

  lightConstantUntil(_port: 1 | 2, tick: number): number {
    return tick;
  }

  isTriggerClosed(): boolean {
    return this.#isTriggerClosed;
  }

  buttons(port: 1 | 2): number {
    return port === 1 ? this.#held : 0;
  }
}
