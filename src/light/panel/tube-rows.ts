import { KeptCodes } from '../../picture/kept-codes.ts';
import { PICTURE_WIDTH, type Timing, ticksPerFrame, ticksPerLine } from '../../units/timing.ts';
import { type Decays, flushed } from '../light-modes.ts';
import type { SpotWeights } from '../optics/optics.ts';
import type { ImpulsePass, ImpulseSum, RowPoles, RowRoom } from './panel.ts';
import { jumpOf, type TubeTables } from './tube-tables.ts';

/** Where the dots of a spot come in a presentation, ticks after its top. */
const ticksFromTop = (line: number, dot: number, tPerRow: number, { dotsPerLine }: Timing): number =>
  Math.round(line * tPerRow) + Math.round((dot * tPerRow) / dotsPerLine);

/** Ticks from the top of a presentation to the end of its pass: one line before the first row of the next nominal frame. */
export const passEnd = ({ firstRow, firstDot }: SpotWeights, tPerRow: number, timing: Timing): number =>
  ticksFromTop(firstRow, firstDot, tPerRow, timing) + ticksPerFrame(timing) - ticksPerLine(timing);

/** What the impulses from the first row on have come to with the last one of a row. */
interface RowOfChain extends ImpulseSum {
  readonly jumpCdM2: Float64Array;
  readonly kicks: Float64Array;
  /** Ticks from the top of the presentation to the row's first and last dot, and to the first and last impulse so far (-1 = none). */
  start: number;
  end: number;
  firstImpulse: number;
  last: number;
  isLit: boolean;
  /** What they make of the sensor's filtered light, cd/m2: at the last one; most up to here; least behind the first lit row. */
  filtered: number;
  most: number;
  least: number;
  /** All the light of the impulses so far, cd/m2 s, and that of the first lit row; the number of rows lit. */
  emission: number;
  firstEmission: number;
  litRows: number;
}

/**
 * The impulses of several rows of a tube one after the other, beginning with one of the spot's rows: what they come to, and
 * what a sensor's low-pass makes of them meanwhile. All of it follows from the codes and is kept while these are the same.
 *
 * In a row x rises by no more than the exposure / tau over what would be without the row; behind it `mostAfter` bounds it.
 */
export class TubeRows {
  readonly #tables: TubeTables;
  readonly #spot: SpotWeights;
  readonly #timing: Timing;
  readonly #decays: Decays;
  readonly #first: number;
  readonly #rows: RowOfChain[] = [];
  readonly #kept: KeptCodes;
  readonly #jump: Float64Array;
  #tPerRow = 0;
  /** Rows that are those of the codes kept, and those of them that are known to be those asked for. */
  #known = 0;
  #sure = 0;
  /** The pass of the rows kept; undefined if it has not been asked for, null if the rows make none. */
  #pass: ImpulsePass | null | undefined;

  constructor(tables: TubeTables, spot: SpotWeights, timing: Timing, decays: Decays, first: number) {
    this.#tables = tables;
    this.#spot = spot;
    this.#timing = timing;
    this.#decays = decays;
    this.#first = first;
    this.#kept = new KeptCodes(spot.firstRow + first, spot.rowCount - first, spot.firstDot, spot.dotCount);
    this.#jump = new Float64Array(tables.tauS.length);
  }

  /**
   * Whether so many rows of these codes are those kept, or begin with all that are kept. Until it is asked again, the rows
   * asked for are of these codes.
   */
  beginAs(tPerRow: number, codes: Uint16Array, rowCount: number): boolean {
    const count = Math.min(this.#known, rowCount);
    if (this.#known > 0 && (tPerRow !== this.#tPerRow || !this.#kept.isAsKept(codes, count))) return false;
    this.#tPerRow = tPerRow;
    this.#sure = count;
    return true;
  }

  /** Forget the rows kept. */
  clear(): void {
    this.#known = 0;
    this.#pass = undefined;
  }

  /** The row that is the spot's row `row`; those between the first and it have been asked for. */
  at(row: number, codes: Uint16Array, poles: RowPoles): RowOfChain {
    const k = row - this.#first;
    if (this.isKnown(row)) return this.#rows[k]!;
    this.#rows[k] ??= emptyRow(this.#jump.length, poles.kickCount);
    this.#compute(this.#rows[k]!, row, codes, poles);
    this.#known = k + 1;
    this.#sure = k + 1;
    this.#pass = undefined;
    return this.#rows[k]!;
  }

  /** Number of rows for which nothing has to be computed. */
  get sure(): number {
    return this.#sure;
  }

  /** Nothing has to be computed for `at`. */
  isKnown(row: number): boolean {
    return row - this.#first < this.#sure;
  }

  /** Whether the row as far as it has come until `limit`, ticks after the top, leaves no room any more. */
  isTooMuch(row: number, codes: Uint16Array, limit: number, poles: RowPoles, room: RowRoom): boolean {
    const above = this.#rows[row - this.#first - 1];
    const start = this.#ticks(row, 0);
    const end = this.#ticks(row, this.#spot.dotCount - 1);
    const most = this.#mostInRow(above, start, this.#exposure(row, codes, limit), poles);
    return most > room.most || leastUpTo(above, end, poles) < room.least;
  }

  /** Any of the rows, all of which are known, has an impulse. */
  get isLit(): boolean {
    return this.#rows[this.#spot.rowCount - 1 - this.#first]!.litRows > 0;
  }

  /** The pass of the rows, all of which are known; undefined if fewer than two are lit or x does not settle in time. */
  pass(poles: RowPoles): ImpulsePass | undefined {
    if (this.#pass === undefined) this.#pass = this.#makePass(poles) ?? null;
    return this.#pass ?? undefined;
  }

  #makePass(poles: RowPoles): ImpulsePass | undefined {
    const sum = this.#rows[this.#spot.rowCount - 1 - this.#first]!;
    const end = passEnd(this.#spot, this.#tPerRow, this.#timing);
    const settled = sum.litRows < 2 ? end : this.#settled(sum, end, poles);
    if (settled >= end) return undefined;
    const { tauS } = this.#tables;
    const jumpCdM2 = new Float64Array(this.#jump.length);
    const decay = this.#decays.after(end - sum.last);
    let left = 0;
    for (let m = 0; m < jumpCdM2.length; m++) {
      jumpCdM2[m] = flushed(sum.jumpCdM2[m]! * decay[m]!);
      left += jumpCdM2[m]! * tauS[m]!;
    }
    return {
      first: sum.firstImpulse,
      settled,
      end,
      jumpCdM2,
      filtered: poles.filteredAfter(end - sum.last, sum.jumpCdM2, sum.kicks),
      most: sum.most,
      least: Math.min(sum.least, sum.filtered, poles.filteredAfter(settled - sum.last, sum.jumpCdM2, sum.kicks)),
      lateExposure: sum.emission - sum.firstEmission - left,
    };
  }

  /** A time at which x is more than the light that is left, and so falls from then on; the end if there is none before. */
  #settled({ last, jumpCdM2, kicks }: RowOfChain, end: number, poles: RowPoles): number {
    for (let ticks = ticksPerLine(this.#timing); last + ticks < end; ticks *= 2) {
      const decay = this.#decays.after(ticks);
      let light = 0;
      for (let m = 0; m < jumpCdM2.length; m++) light += jumpCdM2[m]! * decay[m]!;
      if (light < poles.filteredAfter(ticks, jumpCdM2, kicks)) return last + ticks;
    }
    return end;
  }

  #ticks(row: number, dot: number): number {
    return ticksFromTop(this.#spot.firstRow + row, this.#spot.firstDot + dot, this.#tPerRow, this.#timing);
  }

  #exposure(row: number, codes: Uint16Array, limit: number): number {
    const { firstRow, firstDot, dotCount, weight } = this.#spot;
    const { exposure } = this.#tables;
    const at = (firstRow + row) * PICTURE_WIDTH + firstDot;
    let sum = 0;
    for (let dot = 0; dot < dotCount; dot++) {
      const ofCode = exposure[codes[at + dot]!]!;
      if (ofCode > 0 && this.#ticks(row, dot) <= limit) sum += weight[row * dotCount + dot]! * ofCode;
    }
    return sum;
  }

  #mostInRow(above: RowOfChain | undefined, start: number, exposure: number, poles: RowPoles): number {
    const rise = exposure * poles.perExposure;
    if (above === undefined || above.last < 0) return rise;
    return Math.max(above.most, poles.mostAfter(start - above.last, above.filtered, above.jumpCdM2) + rise);
  }

  #compute(into: RowOfChain, row: number, codes: Uint16Array, poles: RowPoles): void {
    const above = this.#rows[row - this.#first - 1];
    this.#kept.keep(codes, row - this.#first, 1);
    takeOver(into, above);
    into.start = this.#ticks(row, 0);
    into.end = this.#ticks(row, this.#spot.dotCount - 1);
    const exposure = this.#exposure(row, codes, into.end);
    into.isLit = exposure > 0;
    if (!into.isLit) return;
    const most = this.#mostInRow(above, into.start, exposure, poles);
    into.least = leastUpTo(above, into.end, poles);
    this.#addRow(into, row, codes, poles);
    into.litRows++;
    if (into.litRows === 1) into.firstEmission = into.emission;
    into.filtered = poles.filtered(into.jumpCdM2, into.kicks);
    into.most = Math.max(most, poles.mostAfter(0, into.filtered, into.jumpCdM2));
  }

  #addRow(into: RowOfChain, row: number, codes: Uint16Array, poles: RowPoles): void {
    const { firstRow, firstDot, dotCount, weight } = this.#spot;
    const firstCode = (firstRow + row) * PICTURE_WIDTH + firstDot;
    for (let dot = 0; dot < dotCount; dot++) {
      const code = codes[firstCode + dot]!;
      if (this.#tables.exposure[code] === 0) continue;
      const tick = this.#ticks(row, dot);
      jumpOf(this.#tables, weight[row * dotCount + dot]!, code, this.#jump);
      if (into.last < 0) into.firstImpulse = tick;
      this.#add(into, into.last < 0 ? 0 : tick - into.last, poles);
      into.last = tick;
    }
  }

  /** One impulse more, so many ticks after the one before. */
  #add(into: RowOfChain, ticks: number, poles: RowPoles): void {
    const { jumpCdM2, kicks } = into;
    const jump = this.#jump;
    const { tauS } = this.#tables;
    const decay = this.#decays.after(ticks);
    let emission = 0;
    for (let m = 0; m < jump.length; m++) {
      jumpCdM2[m] = flushed(jumpCdM2[m]! * decay[m]!) + jump[m]!;
      emission += jump[m]! * tauS[m]!;
    }
    into.emission += emission;
    poles.kick(kicks, ticks, jump);
  }
}

const emptyRow = (modeCount: number, kickCount: number): RowOfChain => ({
  tick: 0,
  jumpCdM2: new Float64Array(modeCount),
  kicks: new Float64Array(kickCount),
  start: 0,
  end: 0,
  firstImpulse: -1,
  last: -1,
  isLit: false,
  filtered: 0.5,
  most: 0.5,
  least: 0.5,
  emission: 0.5,
  firstEmission: 0.5,
  litRows: 0,
});

/** Before the first row. */
const NOTHING_YET = {
  firstImpulse: -1,
  last: -1,
  filtered: 0,
  most: 0,
  least: Number.POSITIVE_INFINITY,
  emission: 0,
  firstEmission: 0,
  litRows: 0,
};

/** Begin where the row above has ended. */
function takeOver(into: RowOfChain, above: RowOfChain | undefined): void {
  if (above === undefined) {
    into.jumpCdM2.fill(0);
    into.kicks.fill(0);
    Object.assign(into, NOTHING_YET);
    return;
  }
  into.jumpCdM2.set(above.jumpCdM2);
  into.kicks.set(above.kicks);
  into.firstImpulse = above.firstImpulse;
  into.last = above.last;
  into.filtered = above.filtered;
  into.most = above.most;
  into.least = above.least;
  into.emission = above.emission;
  into.firstEmission = above.firstEmission;
  into.litRows = above.litRows;
}

/** Before the first impulse nothing is asked of the filtered light; behind it, it is least at either end of a span. */
function leastUpTo(above: RowOfChain | undefined, end: number, poles: RowPoles): number {
  if (above === undefined || above.last < 0) return Number.POSITIVE_INFINITY;
  const { least, filtered, last, jumpCdM2, kicks } = above;
  return Math.min(least, filtered, poles.filteredAfter(end - last, jumpCdM2, kicks));
}
