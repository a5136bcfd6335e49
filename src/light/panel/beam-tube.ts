import type { LineRange } from '../../picture/picture.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../../units/timing.ts';
import { type Decays, decaysOf, type LightModes } from '../light-modes.ts';
import type { SpotWeights } from '../optics/optics.ts';
import { checkParameters } from '../parameters.ts';
import { restoreNumber, type SavedState } from '../saved-state.ts';
import { SharedTables } from '../shared-tables.ts';
import type { Presentation } from '../signal/signal-stage.ts';
import { BEAM_TUBE_SPEC } from './beam-tube-spec.ts';
import {
  type Gathered,
  type ImpulsePass,
  type ImpulseRow,
  type ImpulseSum,
  type Panel,
  type PanelContext,
  type PanelModel,
  type PassTimes,
  type PoleKicks,
  presentedCodes,
  type RowPoles,
  type RowRoom,
  type RowTimes,
} from './panel.ts';
import { passEnd, TubeRows } from './tube-rows.ts';
import { jumpOf, phosphorModes, type TubeTables, tubeTables } from './tube-tables.ts';

/** The impulses of some dots of a row, and which dots and codes they are of. */
class RowSum implements ImpulseSum {
  tick = 0;
  readonly jumpCdM2: Float64Array;
  readonly kicks: Float64Array;
  readonly #codes: Uint16Array;
  #firstDot = 0;
  #dotCount = 0;
  #tPerRow = 0;

  constructor(dotCount: number, modeCount: number, kickCount: number) {
    this.#codes = new Uint16Array(dotCount);
    this.jumpCdM2 = new Float64Array(modeCount);
    this.kicks = new Float64Array(kickCount);
  }

  isOf(firstDot: number, dotCount: number, tPerRow: number, codes: Uint16Array, firstCode: number): boolean {
    if (firstDot !== this.#firstDot || dotCount !== this.#dotCount || tPerRow !== this.#tPerRow) return false;
    for (let dot = firstDot; dot < firstDot + dotCount; dot++) {
      if (codes[firstCode + dot] !== this.#codes[dot]) return false;
    }
    return true;
  }

  begin(firstDot: number, dotCount: number, tPerRow: number, codes: Uint16Array, firstCode: number): void {
    this.#firstDot = firstDot;
    this.#dotCount = dotCount;
    this.#tPerRow = tPerRow;
    for (let dot = firstDot; dot < firstDot + dotCount; dot++) this.#codes[dot] = codes[firstCode + dot]!;
    this.jumpCdM2.fill(0);
    this.kicks.fill(0);
  }

  /** One impulse more, so many ticks after the one before. */
  add(ticks: number, jump: Float64Array, decays: Decays, poles: PoleKicks): void {
    const decay = decays.after(ticks);
    for (let m = 0; m < jump.length; m++) this.jumpCdM2[m] = this.jumpCdM2[m]! * decay[m]! + jump[m]!;
    poles.kick(this.kicks, ticks, jump);
  }
}

/** Sums of the same row from the same dot on that are kept: a lamp, a flash and what is between them. Our choice. */
const SUMS_KEPT = 4;

/** The latest sums of one spot: by row and first dot, and of whole rows by the first row. */
interface TubeSums {
  readonly ofDots: RowSum[][];
  readonly ofRows: TubeRows[][];
}

/** Tubes of the same kind under the same spot and sensor share their sums: the shots of a sweep show the same again. */
const sumsMade = new WeakMap<SpotWeights, SharedTables<TubeSums>>();

/**
 * A tube: dot x of row y excites the phosphors at `tTop + round(y * tPerRow) + round(x * tPerRow / 341)`.
 *
 * The area of the impulse is such that a steady white field has a time mean of `whiteCdM2` over the nominal frame. Dots
 * without drive are no event. The beam has no width of its own: the spot of the sensor is wider.
 */
class BeamTube implements Panel, ImpulseRow {
  readonly tauS: Float64Array;
  readonly constantCdM2 = 0;
  readonly isPureShift = true;
  readonly sees: LineRange;
  readonly emittedS: Float64Array;
  readonly lasting: Float64Array;
  readonly #context: PanelContext;
  readonly #spot: SpotWeights;
  readonly #decays: Decays;
  readonly #tables: TubeTables;
  /** What of the area comes as light while the spot's part of a row is scanned, by code, cd/m2 s. 0 = no impulse. */
  readonly #exposure: Float64Array;
  readonly #jump: Float64Array;
  #sums: TubeSums | undefined;
  readonly #rowTimes = { first: 0, firstEnd: 0, end: 0 };
  readonly #passTimes = { topTick: 0, endTick: 0 };
  /** First row of those that are gathered; row of the last impulse gathered and the dot behind it. */
  #firstGathered = 0;
  #gatheredRow = 0;
  #gatheredEnd = 0;
  /** The next dot to look at: presentation, row and dot of the spot. */
  #presentation: number;
  #row = 0;
  #dot = 0;

  constructor(whiteCdM2: number, phosphor: number, context: PanelContext) {
    const { timing, spectralWeights } = context;
    this.#context = context;
    this.#presentation = context.firstPresentation;
    this.#spot = context.optics.spot(context.aim, PICTURE_HEIGHT);
    const { dotCount } = this.#spot;
    this.sees = linesUnder(this.#spot);
    const tables = tubeTables({ whiteCdM2, phosphor, timing, spectralWeights, dotCount });
    this.#tables = tables;
    this.tauS = tables.tauS;
    this.lasting = tables.lasting;
    this.emittedS = tables.emittedS;
    this.#exposure = tables.exposure;
    this.#decays = decaysOf(this.tauS, timing);
    this.#jump = new Float64Array(this.tauS.length);
  }

  get impulses(): ImpulseRow {
    return this;
  }

  nextChange(limit: number): number {
    if (this.sees.firstLine > this.sees.lastLine) return Number.POSITIVE_INFINITY;
    for (;;) {
      const presentation = this.#context.chain.at(this.#presentation);
      if (presentation === undefined) return Number.POSITIVE_INFINITY;
      const tick = this.#nextOf(presentation, limit);
      if (tick > limit) return Number.POSITIVE_INFINITY;
      if (tick >= 0) return tick;
      this.#presentation++;
      this.#row = 0;
    }
  }

  /** First dot with drive from here on: its tick, Infinity if that is after `limit`, -1 if the picture has no more. */
  #nextOf(presentation: Presentation, limit: number): number {
    const { firstRow, rowCount } = this.#spot;
    for (; this.#row < rowCount; this.#row++) {
      const line = firstRow + this.#row;
      if (line < presentation.yFirst || line > presentation.yLast) continue;
      const tick = this.#nextInLine(presentation, line, limit);
      if (tick >= 0) return tick;
      this.#dot = 0;
    }
    return -1;
  }

  #nextInLine(presentation: Presentation, line: number, limit: number): number {
    const { firstDot, dotCount } = this.#spot;
    if (this.#dot === dotCount) return -1;
    if (this.#dotTick(presentation, line, firstDot + this.#dot) > limit) return Number.POSITIVE_INFINITY;
    const codes = this.#codes(presentation);
    const firstCode = line * PICTURE_WIDTH + firstDot;
    const exposure = this.#exposure;
    const isOver = this.#dotTick(presentation, line, firstDot + dotCount - 1) <= limit;
    let dot = this.#dot;
    for (; dot < dotCount; dot++) {
      if (!isOver && this.#dotTick(presentation, line, firstDot + dot) > limit) break;
      if (exposure[codes[firstCode + dot]!]! > 0) break;
    }
    this.#dot = dot;
    if (dot === dotCount) return -1;
    const tick = this.#dotTick(presentation, line, firstDot + dot);
    return tick > limit ? Number.POSITIVE_INFINITY : tick;
  }

  #dotTick(presentation: Presentation, line: number, dot: number): number {
    const { tTop, tPerRow } = presentation;
    return tTop + Math.round(line * tPerRow) + Math.round((dot * tPerRow) / this.#context.timing.dotsPerLine);
  }

  #codes(presentation: Presentation): Uint16Array {
    return presentedCodes(this.#context.history, presentation, this.sees);
  }

  applyChange({ amplitudeCdM2 }: LightModes): void {
    const { firstRow, firstDot } = this.#spot;
    const presentation = this.#context.chain.at(this.#presentation)!;
    const code = this.#codes(presentation)[(firstRow + this.#row) * PICTURE_WIDTH + firstDot + this.#dot]!;
    this.#jumpOf(this.#row, this.#dot, code);
    for (let m = 0; m < amplitudeCdM2.length; m++) amplitudeCdM2[m]! += this.#jump[m]!;
    this.#dot++;
  }

  /** Leaves in `#jump` what a dot adds to the modes. */
  #jumpOf(row: number, dot: number, code: number): void {
    jumpOf(this.#tables, this.#spot.weight[row * this.#spot.dotCount + dot]!, code, this.#jump);
  }

  ticksLeft(cutTick: number): number {
    const { firstRow, firstDot, rowCount, dotCount } = this.#spot;
    if (this.#row >= rowCount || dotCount === 0) return 0;
    const presentation = this.#context.chain.at(this.#presentation);
    if (presentation === undefined) return 0;
    const line = firstRow + this.#row;
    if (cutTick < this.#dotTick(presentation, line, firstDot)) return 0;
    if (line < presentation.yFirst || line > presentation.yLast) return 0;
    return Math.max(0, this.#dotTick(presentation, line, firstDot + dotCount - 1) - cutTick);
  }

  gather(allowed: number, limit: number, poles: PoleKicks): Gathered {
    const { firstRow, firstDot, dotCount, weight } = this.#spot;
    const presentation = this.#context.chain.at(this.#presentation)!;
    const line = firstRow + this.#row;
    const codes = this.#codes(presentation);
    const firstCode = line * PICTURE_WIDTH + firstDot;
    const firstWeight = this.#row * dotCount;
    const isOver = this.#dotTick(presentation, line, firstDot + dotCount - 1) <= limit;
    let lastLit = -1;
    let sum = 0;
    for (let dot = this.#dot; dot < dotCount; dot++) {
      if (!isOver && this.#dotTick(presentation, line, firstDot + dot) > limit) return 'open';
      const exposure = this.#exposure[codes[firstCode + dot]!]!;
      if (exposure === 0) continue;
      sum += weight[firstWeight + dot]! * exposure;
      if (sum > allowed) break;
      lastLit = dot;
    }
    if (lastLit < 0) return 'none';
    this.#gatheredRow = this.#row;
    this.#gatheredEnd = lastLit + 1;
    const gathered = this.#sumOf(presentation, codes, firstCode, poles);
    gathered.tick = this.#dotTick(presentation, line, firstDot + lastLit);
    return gathered;
  }

  /** The sum of the dots gathered; taken from the latest sum of this row if that was of the same dots and codes. */
  #sumOf(presentation: Presentation, codes: Uint16Array, firstCode: number, poles: PoleKicks): RowSum {
    const { dotCount, firstDot } = this.#spot;
    const place = this.#row * dotCount + this.#dot;
    const { ofDots } = this.#sumsFor(poles);
    ofDots[place] ??= [];
    const sums = ofDots[place];
    const [first, count] = [this.#dot, this.#gatheredEnd - this.#dot];
    for (const one of sums) if (one.isOf(first, count, presentation.tPerRow, codes, firstCode)) return one;
    const kept = sums.length < SUMS_KEPT ? new RowSum(dotCount, this.tauS.length, poles.kickCount) : sums.pop()!;
    sums.unshift(kept);
    kept.begin(first, count, presentation.tPerRow, codes, firstCode);
    let last = -1;
    for (let dot = this.#dot; dot < this.#gatheredEnd; dot++) {
      const code = codes[firstCode + dot]!;
      if (this.#exposure[code] === 0) continue;
      const tick = Math.round(((firstDot + dot) * presentation.tPerRow) / this.#context.timing.dotsPerLine);
      this.#jumpOf(this.#row, dot, code);
      kept.add(last < 0 ? 0 : tick - last, this.#jump, this.#decays, poles);
      last = tick;
    }
    return kept;
  }

  rowsAfter(cutTick: number, limit: number): RowTimes | undefined {
    // Rows may be those of a later presentation.
    this.nextChange(limit);
    const { firstRow, firstDot, rowCount, dotCount } = this.#spot;
    // A spot beside the picture stays at the presentation that it began with, which may be long gone.
    if (this.#row >= rowCount || dotCount === 0) return undefined;
    const presentation = this.#context.chain.at(this.#presentation);
    if (presentation === undefined) return undefined;
    if (firstRow < presentation.yFirst || firstRow + rowCount - 1 > presentation.yLast) return undefined;
    const first = this.#firstLitRow(presentation, cutTick, limit);
    if (first < 0) return undefined;
    this.#firstGathered = first;
    const times = this.#rowTimes;
    times.first = this.#dotTick(presentation, firstRow + first, firstDot) - cutTick;
    times.firstEnd = this.#dotTick(presentation, firstRow + first, firstDot + dotCount - 1) - cutTick;
    times.end = this.#dotTick(presentation, firstRow + rowCount - 1, firstDot + dotCount - 1) - cutTick;
    return times;
  }

  /** The first row behind the cut with an impulse that has come; -1 if there is none, or impulses of the cut's own row are left. */
  #firstLitRow(presentation: Presentation, cutTick: number, limit: number): number {
    const { firstRow, firstDot, rowCount, dotCount } = this.#spot;
    const from = this.#row;
    if (this.#dotTick(presentation, firstRow + from, firstDot) > limit) return -1;
    const codes = this.#codes(presentation);
    for (let row = from; row < rowCount; row++) {
      const line = firstRow + row;
      if (this.#dotTick(presentation, line, firstDot) > limit) return -1;
      const isCutsOwn = row === from && cutTick >= this.#dotTick(presentation, line, firstDot);
      const isOver = this.#dotTick(presentation, line, firstDot + dotCount - 1) <= limit;
      const isLit = this.#hasImpulse(presentation, codes, line, isCutsOwn ? this.#dot : 0, isOver ? Infinity : limit);
      if (isCutsOwn && (isLit || !isOver)) return -1;
      if (isLit) return row;
      if (!isOver) return -1;
    }
    return -1;
  }

  #hasImpulse(presentation: Presentation, codes: Uint16Array, line: number, from: number, limit: number): boolean {
    const { firstDot, dotCount } = this.#spot;
    const exposure = this.#exposure;
    const firstCode = line * PICTURE_WIDTH + firstDot;
    for (let dot = from; dot < dotCount; dot++) {
      if (exposure[codes[firstCode + dot]!] === 0) continue;
      return limit === Infinity || this.#dotTick(presentation, line, firstDot + dot) <= limit;
    }
    return false;
  }

  gatherRows(room: RowRoom, limit: number, poles: RowPoles): Gathered {
    const { rowCount } = this.#spot;
    const presentation = this.#context.chain.at(this.#presentation)!;
    const codes = this.#codes(presentation);
    const end = this.#endOfRows(this.#firstGathered, presentation, limit);
    const rows = this.#rowsFrom(this.#firstGathered, end, presentation, codes, poles);
    const untilTop = limit - presentation.tTop;
    let last = -1;
    for (let row = this.#firstGathered; row < rowCount; row++) {
      const isOver = row < end;
      if ((!isOver || !rows.isKnown(row)) && rows.isTooMuch(row, codes, untilTop, poles, room)) break;
      if (!isOver) return 'open';
      const { isLit, most, least } = rows.at(row, codes, poles);
      if (most > room.most || least < room.least) break;
      if (isLit) last = row;
    }
    if (last < 0) return 'none';
    const gathered = rows.at(last, codes, poles);
    gathered.tick = presentation.tTop + gathered.last;
    this.#gatheredRow = last;
    this.#gatheredEnd = this.#endOfImpulses(codes, last);
    return gathered;
  }

  /** The row behind those from the first on that are over. */
  #endOfRows(first: number, presentation: Presentation, limit: number): number {
    let end = this.#spot.rowCount;
    while (end > first && !this.#isOver(presentation, end - 1, limit)) end--;
    return end;
  }

  /** Rows from the first one on that are these up to `end`. */
  #rowsFrom(first: number, end: number, { tPerRow }: Presentation, codes: Uint16Array, poles: RowPoles): TubeRows {
    const { ofRows } = this.#sumsFor(poles);
    ofRows[first] ??= [];
    const kept = ofRows[first];
    let rows: TubeRows | undefined;
    for (const one of kept) {
      if (!one.beginAs(tPerRow, codes, end - first)) continue;
      if (rows === undefined || rows.sure < one.sure) rows = one;
      if (one.isKnown(end - 1)) break;
    }
    if (rows === undefined) {
      rows =
        kept.length < SUMS_KEPT
          ? new TubeRows(this.#tables, this.#spot, this.#context.timing, this.#decays, first)
          : kept[kept.length - 1]!;
      rows.clear();
      rows.beginAs(tPerRow, codes, end - first);
    }
    // The latest come first.
    if (rows !== kept[0]) {
      const place = kept.indexOf(rows);
      if (place >= 0) kept.splice(place, 1);
      kept.unshift(rows);
    }
    return rows;
  }

  #sumsFor({ key }: PoleKicks): TubeSums {
    if (this.#sums !== undefined) return this.#sums;
    const ofSpot = sumsMade.get(this.#spot) ?? new SharedTables<TubeSums>();
    sumsMade.set(this.#spot, ofSpot);
    this.#sums = ofSpot.of([...this.#tables.key, ...key], () => ({ ofDots: [], ofRows: [] }));
    return this.#sums;
  }

  #isOver(presentation: Presentation, row: number, limit: number): boolean {
    const { firstRow, firstDot, dotCount } = this.#spot;
    return this.#dotTick(presentation, firstRow + row, firstDot + dotCount - 1) <= limit;
  }

  /** The dot behind the row's last impulse. */
  #endOfImpulses(codes: Uint16Array, row: number): number {
    const { firstRow, firstDot, dotCount } = this.#spot;
    const firstCode = (firstRow + row) * PICTURE_WIDTH + firstDot;
    let end = dotCount;
    while (end > 0 && this.#exposure[codes[firstCode + end - 1]!] === 0) end--;
    return end;
  }

  passAfter(cutTick: number, limit: number): PassTimes | undefined {
    const { firstRow, firstDot, rowCount, dotCount } = this.#spot;
    if (rowCount === 0 || dotCount === 0) return undefined;
    for (;;) {
      const presentation = this.#context.chain.at(this.#presentation);
      if (presentation === undefined) return undefined;
      if (cutTick < this.#dotTick(presentation, firstRow, firstDot)) {
        // Nothing of it has been applied, however far it has been looked through.
        this.#row = 0;
        this.#dot = 0;
        if (firstRow < presentation.yFirst || firstRow + rowCount - 1 > presentation.yLast) return undefined;
        const isOver = this.#isOver(presentation, rowCount - 1, limit);
        const isKnown = isOver || this.#firstLitRow(presentation, cutTick, limit) >= 0;
        return isKnown ? this.#passTimesOf(presentation) : undefined;
      }
      if (this.#nextOf(presentation, limit) >= 0) return undefined;
      this.takePass();
    }
  }

  #passTimesOf({ tTop, tPerRow }: Presentation): PassTimes {
    const times = this.#passTimes;
    times.topTick = tTop;
    times.endTick = tTop + passEnd(this.#spot, tPerRow, this.#context.timing);
    return times;
  }

  gatherPass(most: number, limit: number, poles: RowPoles): ImpulsePass | 'open' | 'none' | 'black' {
    const { rowCount } = this.#spot;
    const presentation = this.#context.chain.at(this.#presentation)!;
    const codes = this.#codes(presentation);
    const end = this.#endOfRows(0, presentation, limit);
    const rows = this.#rowsFrom(0, end, presentation, codes, poles);
    if (!rows.isKnown(rowCount - 1)) {
      const room = { most, least: Number.NEGATIVE_INFINITY };
      const untilTop = limit - presentation.tTop;
      for (let row = 0; row < rowCount; row++) {
        const isOver = row < end;
        if ((!isOver || !rows.isKnown(row)) && rows.isTooMuch(row, codes, untilTop, poles, room)) return 'none';
        if (!isOver) return 'open';
        if (rows.at(row, codes, poles).most > most) return 'none';
      }
    }
    if (!rows.isLit) {
      this.takePass();
      return 'black';
    }
    const pass = rows.pass(poles);
    return pass === undefined || pass.most > most ? 'none' : pass;
  }

  isLastUntil(tick: number): boolean {
    const { firstRow, firstDot } = this.#spot;
    const next = this.#context.chain.at(this.#presentation + 1);
    return next === undefined || this.#dotTick(next, firstRow, firstDot) > tick;
  }

  takePass(): void {
    this.#presentation++;
    this.#row = 0;
    this.#dot = 0;
  }

  take(): void {
    this.#row = this.#gatheredRow;
    this.#dot = this.#gatheredEnd;
  }

  rowTick(presentation: Presentation, line: number, dot: number): number {
    return this.#dotTick(presentation, line, dot);
  }

  aimTick(presentation: Presentation): number {
    const line = Math.max(0, Math.min(PICTURE_HEIGHT - 1, Math.floor(this.#context.aim.y)));
    return this.#dotTick(presentation, line, 0);
  }

  save(): SavedState {
    return { presentation: this.#presentation, row: this.#row, dot: this.#dot };
  }

  load(state: SavedState): void {
    this.#presentation = restoreNumber(state, 'presentation');
    this.#row = restoreNumber(state, 'row');
    this.#dot = restoreNumber(state, 'dot');
  }
}

function linesUnder({ firstRow, rowCount, dotCount }: SpotWeights): LineRange {
  return { firstLine: firstRow, lastLine: firstRow + (dotCount > 0 ? rowCount : 0) - 1 };
}

/** A picture tube. It takes stored and unstored presentations alike. */
export const BEAM_TUBE: PanelModel = {
  spec: BEAM_TUBE_SPEC,
  sees: (_, optics, aim) => linesUnder(optics.spot(aim, PICTURE_HEIGHT)),
  slowestS: (values) => Math.max(...phosphorModes(values['phosphor']!).tauS),
  create(values, context) {
    checkParameters(BEAM_TUBE_SPEC, values);
    return new BeamTube(values['whiteCdM2']!, values['phosphor']!, context);
  },
};
