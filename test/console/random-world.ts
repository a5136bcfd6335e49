/**
 * A random surrounding of a processor, all from one seed: memory full of code, pages mapped, mirrored and claimed,
 * registers that move the interrupt lines, ask for a hold, remap a page or bring the limit nearer. Plain data and
 * arithmetic, so that two of them with one seed, asked alike, answer alike.
 */
const MEMORY_BYTES = 0x14000;
/** 256 bytes that take the writes to a page that cannot be written. */
const SPARE = 0x13f00;
/** The latest happenings are kept, some numbers each. */
const RECENT = 32;
const NOTED = 6;
const KINDS = ['read', 'write', 'fetch', 'nmi', 'irq', 'hold'] as const;
/** The only kind at which the byte on the bus is not told. */
const FETCH = 2;
const JAM_BITS = 0x12;

/** What a register does: the low four bits of the address of a claimed access. */
const DO = {
  acknowledge: 0,
  nmiOn: 1,
  nmiOff: 2,
  irqLater: 3,
  hold: 4,
  limit: 5,
  remap: 6,
  openBus: 7,
  holdLater: 8,
} as const;

/** Seeded integers: uniform in 0..bound - 1. */
export class Draws {
  #state: number;

  constructor(seed: number) {
    this.#state = seed;
  }

  next(): number {
    this.#state = (this.#state + 0x6d2b79f5) | 0;
    let h = Math.imul(this.#state ^ (this.#state >>> 15), this.#state | 1);
    h ^= h + Math.imul(h ^ (h >>> 7), h | 61);
    return (h ^ (h >>> 14)) >>> 0;
  }

  below(bound: number): number {
    return this.next() % bound;
  }

  chance(percent: number): boolean {
    return this.below(100) < percent;
  }
}

const mix = (a: number, b: number): number => {
  const h = Math.imul(a ^ (a >>> 15), 0x2c1b3c6d) ^ Math.imul(b ^ (b >>> 13), 0x297a2d39);
  return (h ^ (h >>> 16)) >>> 0;
};

export class RandomWorld {
  readonly seed: number;
  readonly memory = new Uint8Array(MEMORY_BYTES);
  readonly readBase = new Int32Array(0x100);
  readonly writeBase = new Int32Array(0x100);
  readonly watched = new Uint8Array(0x100);
  /** Page that the latest access has remapped; -1 = none. */
  remappedPage = -1;
  dataBus = 0;
  isNmiOn: boolean;
  irqCycle = Infinity;
  limitCycle = Infinity;
  /** The first read in this cycle or later is held. */
  holdCycle = Infinity;
  /** Cycles that are left of a hold. */
  heldCycles = 0;
  /** First edge of the NMI line that a processor can still see; only for a processor that wants to know ahead. */
  nmiCycle = Infinity;
  /** A number that depends on everything that happened. */
  history = 0;
  readonly #recent = new Float64Array(RECENT * NOTED);
  #happenings = 0;
  counts = { claimed: 0, nmi: 0, irq: 0, holds: 0, fetched: 0, remaps: 0, limits: 0 };
  readonly #period: number;
  readonly #width: number;

  constructor(seed: number) {
    const draws = new Draws(seed);
    this.seed = seed;
    this.#period = 200 + draws.below(draws.chance(50) ? 400 : 5000);
    this.#width = 1 + draws.below(draws.chance(50) ? 12 : 150);
    this.isNmiOn = draws.chance(60);
    this.#fillMemory(draws);
    this.#mapPages(draws);
  }

  /** JAM opcodes are patched away; what the program itself writes may still be one. */
  #fillMemory(draws: Draws): void {
    for (let at = 0; at < MEMORY_BYTES; at += 4) {
      let four = draws.next();
      for (let i = at; i < at + 4; i++, four >>>= 8) {
        const byte = four & 0xff;
        const isJam = (byte & 0x1f) === JAM_BITS || (byte & 0x9f) === 0x02;
        this.memory[i] = isJam ? 0xea : byte;
      }
    }
  }

  /** RAM with mirrors below $2000, claimed pages here and there, banks and pages that take no writes above. */
  #mapPages(draws: Draws): void {
    const claimPercent = draws.below(30);
    const watchPercent = draws.chance(30) ? 10 : 0;
    for (let page = 0; page < 0x100; page++) {
      const offset = page < 0x20 ? (page & 7) * 0x100 : page * 0x100;
      this.readBase[page] = offset;
      this.writeBase[page] = page >= 0x80 && draws.chance(20) ? SPARE : offset;
      if (page > 1 && draws.chance(claimPercent)) this.readBase[page] = -1;
      if (page > 1 && draws.chance(claimPercent)) this.writeBase[page] = -1;
      this.watched[page] = draws.chance(watchPercent) ? 1 : 0;
    }
    if (draws.chance(20)) this.writeBase[0] = -1;
    if (draws.chance(3)) this.readBase[0] = -1;
    if (draws.chance(3)) this.writeBase[1] = -1;
  }

  nmiLineAt(cycle: number): boolean {
    return this.isNmiOn && cycle % this.#period < this.#width;
  }

  irqLineAt(cycle: number): boolean {
    return cycle >= this.irqCycle;
  }

  /** First edge in `cycle` or later, when the line stood at `before` in the cycle before. */
  nextEdge(cycle: number, before: boolean): number {
    if (!this.isNmiOn) return Infinity;
    const phase = cycle % this.#period;
    return phase < this.#width && !before ? cycle : cycle - phase + this.#period;
  }

  read(address: number, cycle: number, pc: number): number {
    this.#note(0, cycle, address, 0, pc);
    this.#act(address, cycle, false);
    const what = address & 15;
    const value = what === DO.openBus ? this.dataBus : mix(mix(this.seed, address), cycle % 0x10000) & 0xff;
    // One register does not drive the bus.
    if ((address & 0x1f) !== 0x15) this.dataBus = value;
    return value;
  }

  /** Claimed pages of RAM keep what is written. */
  write(address: number, value: number, cycle: number, pc: number): void {
    this.#note(1, cycle, address, value, pc);
    this.#act(address, cycle, true);
    if (address < 0x2000) this.memory[address & 0x7ff] = value;
  }

  fetched(address: number, cycle: number): void {
    this.counts.fetched++;
    this.#note(FETCH, cycle, address, 0, 0);
  }

  served(kind: 'nmi' | 'irq', cycle: number): void {
    this.counts[kind]++;
    this.#note(kind === 'nmi' ? 3 : 4, cycle, 0, 0, 0);
  }

  /** Cycles of the next stretch of a hold; in its first cycle a line may move. 0 = it has ended. */
  hold(address: number, cycle: number): number {
    if (this.heldCycles === 0) return 0;
    this.#note(5, cycle, address, 0, 0);
    const stretch = 1 + (mix(this.seed, cycle % 0x10000) % Math.min(this.heldCycles, 100));
    this.heldCycles -= stretch;
    if (stretch % 5 === 0) this.#switchNmi(stretch % 2 === 0, cycle);
    else this.nmiCycle = this.nextEdge(cycle, this.nmiLineAt(cycle - 1));
    this.dataBus = stretch;
    return stretch;
  }

  #act(address: number, cycle: number, isWrite: boolean): void {
    this.counts.claimed++;
    this.nmiCycle = this.nextEdge(cycle, this.nmiLineAt(cycle - 1));
    const random = mix(address, cycle % 0x10000);
    const what = address & 15;
    if (what === DO.acknowledge) this.irqCycle = Infinity;
    else if (what === DO.nmiOn) this.#switchNmi(true, cycle);
    else if (what === DO.nmiOff) this.#switchNmi(false, cycle);
    else if (what === DO.irqLater) this.irqCycle = cycle + (random % (random & 0x1000 ? 12 : 300));
    else if (what === DO.limit) this.#bringLimit(cycle + (random % 40));
    else if (what === DO.holdLater) this.#askHold(random, cycle + 8 + ((random >>> 16) % 100));
    else if (!isWrite) return;
    else if (what === DO.hold) this.#askHold(random, cycle + 1);
    else if (what === DO.remap) this.#remap(random);
  }

  #switchNmi(isOn: boolean, cycle: number): void {
    const before = this.nmiLineAt(cycle - 1);
    this.isNmiOn = isOn;
    this.nmiCycle = this.nextEdge(cycle, before);
  }

  #bringLimit(cycle: number): void {
    this.counts.limits++;
    this.limitCycle = Math.min(this.limitCycle, cycle);
  }

  #askHold(random: number, cycle: number): void {
    this.counts.holds++;
    this.holdCycle = cycle;
    this.heldCycles = 1 + (random % (random & 0x1000 ? 513 : 6));
  }

  /** A page from 2 up shows another place, or is claimed. */
  #remap(random: number): void {
    this.counts.remaps++;
    const page = 2 + (random % 0xfe);
    const offset = random & 0x1000 ? -1 : ((random >>> 16) % 0x13f) * 0x100;
    this.readBase[page] = offset;
    this.writeBase[page] = random & 0x2000 ? -1 : Math.max(offset, 0x200);
    this.remappedPage = page;
  }

  /** The latest happenings as text, oldest first. */
  get recent(): string[] {
    const first = Math.max(0, this.#happenings - RECENT);
    return Array.from({ length: this.#happenings - first }, (_, i) => {
      const at = ((first + i) % RECENT) * NOTED;
      const [kind, cycle, address, value, pc, bus] = this.#recent.subarray(at, at + NOTED);
      return `${cycle}: ${KINDS[kind!]} ${address} value ${value} pc ${pc} bus ${bus}`;
    });
  }

  #note(kind: number, cycle: number, address: number, value: number, pc: number): void {
    const bus = kind === FETCH ? 0 : this.dataBus;
    const happening = mix(mix(address, pc), (value << 16) | (bus << 8) | kind);
    this.history = mix(this.history, happening ^ (cycle % 0x1_0000_0000));
    const at = (this.#happenings++ % RECENT) * NOTED;
    const recent = this.#recent;
    recent[at] = kind;
    recent[at + 1] = cycle;
    recent[at + 2] = address;
    recent[at + 3] = value;
    recent[at + 4] = pc;
    recent[at + 5] = bus;
  }
}
