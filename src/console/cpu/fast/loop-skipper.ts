import type { Registers } from '../flags.ts';
import { LoopRound } from './loop-round.ts';
import type { PageTable } from './page-table.ts';
import type { SteadyPorts } from './steady-ports.ts';

/** Rounds that must be skipped for a try to have paid: it costs about as much. Our choice. */
const ROUNDS_OF_A_TRY = 12;
/** Tries that a head has in advance, and the most that it can save up. */
const FIRST_TRIES = 4;
const MOST_TRIES = 250;
/** Cycles after which a head that has used up its tries gets new ones; our choice, a quarter of a second. */
const REST_CYCLES = 450_000;

/** Rounds of a loop that can be left out. */
export interface Leap {
  rounds: number;
  /** Cycles of one round. */
  cycles: number;
  /** Address of its claimed read, -1 = none; the byte read, the first read's cycle and its opcode's address. */
  readAddress: number;
  readValue: number;
  readCycle: number;
  readPc: number;
}

/**
 * Finds whole rounds of waiting loops that can be left out, so that everything later is as if they had been run.
 *
 *     head | round played on a copy | equal rounds, or with X and Y counted on | head, from which the processor goes on
 *          ^ backward branch taken                                            ^ before the next event, change, exit
 *
 * At the target of a backward branch or jump one round is played from the very registers and memory of that instant. If
 * it ends as it began, all rounds until an event are the same. If only X or Y has counted on, and nothing but branches
 * looks at them, rounds are alike until the first of those branches goes the other way. A claimed read must be steady for
 * as long. Nothing is remembered of a loop but whether it is worth trying, so changed code and banks need no notice.
 *
 * Method: induction over rounds; the conditions stand at `CounterWatch`.
 */
export class LoopSkipper {
  /** By place in memory, hence by address and bank: 0 = a head there is worth trying. */
  readonly rests: Uint8Array;
  /** The latest answer of `find`. */
  readonly leap: Leap = { rounds: 0, cycles: 0, readAddress: -1, readValue: 0, readCycle: 0, readPc: 0 };
  /** Cycles left out since the start, for measurements; not part of the state. */
  skippedCycles = 0;
  readonly #ports: SteadyPorts;
  readonly #round: LoopRound;
  /** By place in memory: tries used up, a head begins with none. */
  readonly #used: Int16Array;
  readonly #resting: number[] = [];
  #wakeCycle = 0;

  constructor(memory: Uint8Array, pages: PageTable, ports: SteadyPorts) {
    this.#ports = ports;
    this.#round = new LoopRound(memory, pages, ports);
    this.rests = new Uint8Array(memory.length);
    this.#used = new Int16Array(memory.length);
  }

  /** Heads that have rested long enough are tried again. */
  wake(cycle: number): void {
    if (cycle < this.#wakeCycle && cycle >= this.#wakeCycle - REST_CYCLES) return;
    this.#wakeCycle = cycle + REST_CYCLES;
    for (const place of this.#resting) this.rests[place] = 0;
    this.#resting.length = 0;
  }

  /**
   * The processor has come to the head at `pc`, `place` in memory, in `cycle` (absolute), and no event comes within `room`
   * cycles. Leaves in `leap` the rounds to leave out, 0 = none, and gives `registers` the values after them.
   */
  find(registers: Registers, pc: number, place: number, cycle: number, room: number): Leap {
    const { leap } = this;
    leap.cycles = this.#round.play(registers, pc, cycle, room);
    leap.rounds = leap.cycles === 0 ? 0 : this.#steadyRounds(cycle, room);
    if (leap.rounds > 0 && !this.#round.endsLike(registers)) this.#count(registers, pc, cycle, room);
    this.#pay(place, Math.floor(leap.rounds / ROUNDS_OF_A_TRY));
    this.skippedCycles += leap.rounds * leap.cycles;
    return leap;
  }

  /** Rounds before an event, whose claimed read gives what it gave in the round played. */
  #steadyRounds(cycle: number, room: number): number {
    const { leap } = this;
    const { readAddress, readOffset, readPc, readValue } = this.#round;
    const rounds = Math.floor(room / leap.cycles);
    leap.readAddress = readAddress;
    if (readAddress < 0) return rounds;
    leap.readValue = readValue;
    leap.readPc = readPc;
    leap.readCycle = cycle + readOffset;
    return Math.max(0, Math.min(rounds, Math.ceil((this.#ports.steadyUntil - leap.readCycle) / leap.cycles)));
  }

  /** The round has changed registers: leave out those in which counters alone go on, and play the last of them. */
  #count(registers: Registers, pc: number, cycle: number, room: number): void {
    const { leap } = this;
    const round = this.#round;
    const { counters } = round;
    if (!counters.isCounting(registers, round)) {
      leap.rounds = 0;
      return;
    }
    leap.rounds = counters.roundsAlike(leap.rounds);
    const others = leap.rounds - 1;
    if (others > 0) {
      registers.x = (registers.x + counters.stepX * others) & 0xff;
      registers.y = (registers.y + counters.stepY * others) & 0xff;
      round.play(registers, pc, cycle, room);
    }
    registers.x = round.x;
    registers.y = round.y;
    registers.p = round.p;
  }

  /** One try has been made, `earned` ones come in. */
  #pay(place: number, earned: number): void {
    const used = Math.max(FIRST_TRIES - MOST_TRIES, this.#used[place]! + 1 - earned);
    this.#used[place] = used < FIRST_TRIES ? used : 0;
    if (used < FIRST_TRIES) return;
    this.rests[place] = 1;
    this.#resting.push(place);
  }
}
