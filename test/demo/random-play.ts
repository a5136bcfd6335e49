import type { TraceEvent } from '../../src/trace/trace.ts';
import { hashNoise } from '../../src/units/noise.ts';
import { msToTicks, TIMINGS, type Timing, type TimingId, ticksPerFrame } from '../../src/units/timing.ts';
import { builtProgram, Lamplighter, type LamplighterButton, type Strategy } from '../lamplighter.ts';

/** What random play has found; `faults` is empty when nothing went wrong. */
export interface RandomPlay {
  readonly faults: readonly string[];
  readonly seconds: number;
  readonly pulls: number;
  readonly verdicts: readonly number[];
  /** How often each value of `calibration` was reached. */
  readonly calibrations: Readonly<Record<string, number>>;
  readonly streetsDone: number;
  readonly gamesOver: number;
}

/** Cycles after the NMI by which everything must have been sent. */
const SENT_BY = 2200;
/** The stack is never deeper than this; below it the page stays as it was cleared. */
const STACK_BYTES = 64;
const RAM_END = 0x800;
const PROGRAM_START = 0x8000;
/** Periods of a flickering lamp. */
const LAMP_MS = [0.05, 0.1, 0.21, 0.5, 1, 2, 5, 10] as const;
/** A calibration that fails takes 1.2 s, one that waits for late light 2 s more; then somebody waits for a pull. */
const LONGEST_SCRIPT_S = 5;
const BUTTONS: readonly LamplighterButton[] = ['Start', 'Start', 'Select', 'A', 'B'];
/** Lines that are drawn, and looked at. */
const DRAWN = { firstLine: 104, lastLine: 128 };
const AIM_ROWS = [104, 112, 120, 128] as const;

/** Play with random buttons, pulls, aims and light for so long (simulated), and watch the program as it plays. */
export function playAtRandom(strategy: Strategy, timing: TimingId, seconds: number, seed: number): RandomPlay {
  return new Player(strategy, timing, seed).play(seconds);
}

class Player {
  readonly #machine: Lamplighter;
  readonly #timing: Timing;
  readonly #seed: number;
  readonly #faults: string[] = [];
  readonly #verdicts = [0, 0, 0, 0];
  readonly #calibrations: Record<string, number> = {};
  readonly #used: ReadonlySet<number>;
  readonly #sentAt: ReadonlySet<number>;
  #drawn = 0;
  #pulls = 0;
  #streetsDone = 0;
  #gamesOver = 0;
  #served = -1;
  #isSent = true;
  #light: 'dark' | 'lit' | 'late' | 'lamp' = 'lit';
  #delayMs = 0;
  #lampMs = 5;
  #secondsInScript = 0;
  #aim = { x: 128, y: 120 };

  constructor(strategy: Strategy, timing: TimingId, seed: number) {
    this.#seed = seed;
    this.#timing = TIMINGS[timing];
    const program = builtProgram(strategy);
    const named = (...names: string[]): number[] => names.map((name) => program.symbols.get(name)!);
    this.#sentAt = new Set(named('quiet_frame', 'shown'));
    this.#used = usedMemory(program.symbols);
    this.#machine = new Lamplighter({
      program,
      timing,
      draws: DRAWN,
      request: {
        // No code runs outside the program memory; nothing is written outside the map or deep in the stack.
        fetches: [...this.#sentAt, ...named('game_over'), ...range(0, PROGRAM_START)],
        writes: [
          ...named('verdict', 'calibration', 'street'),
          ...range(0, RAM_END).filter((at) => this.#isForbidden(at)),
        ],
      },
      light: (tick) => this.#sees(tick),
      onEvent: (event) => this.#hear(event),
    });
  }

  play(seconds: number): RandomPlay {
    const frames = Math.round(msToTicks(this.#timing, seconds * 1000) / ticksPerFrame(this.#timing));
    let nextCheck = 60;
    for (let frame = 0; frame < frames && this.#faults.length === 0; ) {
      const length = 1 + this.#random(40);
      this.#act(length);
      frame += length;
      if (frame < nextCheck) continue;
      nextCheck += 60;
      this.#checkMemory();
    }
    return {
      faults: this.#faults,
      seconds,
      pulls: this.#pulls,
      verdicts: this.#verdicts,
      calibrations: this.#calibrations,
      streetsDone: this.#streetsDone,
      gamesOver: this.#gamesOver,
    };
  }

  #random(below: number): number {
    return Math.floor(hashNoise(this.#seed, 1, this.#drawn++) * below);
  }

  /** Something that a player might do, then some frames of nothing. */
  #act(frames: number): void {
    const machine = this.#machine;
    const what = this.#random(100);
    machine.hold();
    machine.trigger = false;
    if (what < 8) machine.hold(BUTTONS[this.#random(BUTTONS.length)]!);
    else if (what < 60) {
      machine.trigger = true;
      this.#pulls++;
    } else if (what < 75) this.#aim = { x: this.#random(256), y: AIM_ROWS[this.#random(AIM_ROWS.length)]! };
    else if (what < 79) this.#changeLight();
    machine.runFrames(frames);
  }

  /** Mostly a screen that is late; the wand is set anew from time to time, with whatever light there is. */
  #changeLight(): void {
    const strange = ['dark', 'lit', 'lamp'] as const;
    this.#light = strange[this.#random(6)] ?? 'late';
    this.#delayMs = this.#random(201);
    this.#lampMs = LAMP_MS[this.#random(LAMP_MS.length)]!;
    this.#aim = { x: 128, y: 120 };
  }

  #sees(tick: number): boolean {
    const { timing } = this.#machine;
    if (this.#light === 'dark' || this.#light === 'lit') return this.#light === 'lit';
    if (this.#light === 'lamp') return Math.floor((2 * tick) / msToTicks(timing, this.#lampMs)) % 2 === 0;
    const code = this.#machine.codeSentAt(tick - msToTicks(timing, this.#delayMs), this.#aim);
    return code !== undefined && BRIGHT.has(code & 0x3f);
  }

  #hear(event: TraceEvent): void {
    const timing = this.#timing;
    if (event.kind === 'nmi-served') {
      if (!this.#isSent) this.#fault(`the handler had not sent everything by the next NMI, tick ${event.tick}`);
      const apart = event.tick - this.#served;
      if (this.#served > 0 && apart > 1.1 * ticksPerFrame(timing)) this.#fault(`no NMI for ${apart} ticks`);
      this.#served = event.tick;
      this.#isSent = false;
    } else if (event.kind === 'fetch' && this.#sentAt.has(event.address)) {
      const cycles = (event.tick - this.#served) / timing.cpuDivider;
      if (!this.#isSent && cycles > SENT_BY) this.#fault(`sent ${cycles} cycles after the NMI`);
      this.#isSent = true;
    } else if (event.kind === 'fetch' && event.address < PROGRAM_START)
      this.#fault(`code runs at $${event.address.toString(16)}`);
    else if (event.kind === 'fetch') this.#gamesOver++;
    else if (event.kind === 'write') this.#hearWrite(event.address, event.value);
  }

  #hearWrite(address: number, value: number): void {
    const machine = this.#machine;
    // Power-on clears all memory.
    if (machine.tick < 20 * ticksPerFrame(machine.timing)) return;
    if (this.#isForbidden(address)) this.#fault(`$${address.toString(16)} was written`);
    if (address === machine.address('verdict')) this.#verdicts[value] = (this.#verdicts[value] ?? 0) + 1;
    else if (address === machine.address('street')) this.#streetsDone += value > 0 ? 1 : 0;
    else if (value >= 2) this.#calibrations[value] = (this.#calibrations[value] ?? 0) + 1;
  }

  #isForbidden(address: number): boolean {
    return !this.#used.has(address) && !(address >= 0x200 - STACK_BYTES && address < 0x200);
  }

  /** No byte outside the map of memory, a shallow stack, and a program counter in the program. */
  #checkMemory(): void {
    const { ram, cpu } = this.#machine.console.save();
    for (let address = 0; address < ram.length; address++) {
      const isStack = address >= 0x200 - STACK_BYTES && address < 0x200;
      if (ram[address] !== 0 && !isStack && !this.#used.has(address))
        this.#fault(`$${address.toString(16)} was written`);
    }
    const isScript = this.#machine.byte('mode') === 0x80;
    this.#secondsInScript = isScript ? this.#secondsInScript + 1 : 0;
    if (this.#secondsInScript > LONGEST_SCRIPT_S) this.#fault(`a script runs for ${this.#secondsInScript} seconds`);
    if (cpu.s < 0x100 - STACK_BYTES) this.#fault(`the stack pointer is $${cpu.s.toString(16)}`);
    if (cpu.pc < 0x8000) this.#fault(`the program counter is $${cpu.pc.toString(16)}`);
  }

  #fault(what: string): void {
    this.#faults.push(what);
  }
}

const range = (from: number, to: number): number[] => Array.from({ length: to - from }, (_, i) => from + i);

/** Memory that the program's map names: up to its last labels, which stand for at most that many bytes. */
function usedMemory(symbols: ReadonlyMap<string, number>): Set<number> {
  const end = (below: number): number => Math.max(...[...symbols.values()].filter((address) => address < below)) + 8;
  const used = new Set<number>();
  for (let address = 0; address < end(0x100); address++) used.add(address);
  for (let address = 0x200; address < end(0x800); address++) used.add(address);
  return used;
}

/** Colours of the game that a sensor would see: white, the low sky, flames. */
const BRIGHT = new Set([0x20, 0x27, 0x28, 0x36, 0x37, 0x38]);
