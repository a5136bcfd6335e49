import { flushed, type LightModes } from '../../../src/light/light-modes.ts';
import type { SpotWeights } from '../../../src/light/optics/optics.ts';
import {
  type Gathered,
  type ImpulsePass,
  type ImpulseRow,
  type ImpulseSum,
  type Panel,
  type PanelContext,
  type PassTimes,
  type PoleKicks,
  presentedCodes,
  type RowPoles,
  type RowRoom,
  type RowTimes,
} from '../../../src/light/panel/panel.ts';
import { restoreNumber, type SavedState } from '../../../src/light/saved-state.ts';
import type { Presentation } from '../../../src/light/signal/signal-stage.ts';
import { linearPrimaries } from '../../../src/references/palette.ts';
import type { Phosphor } from '../../../src/references/phosphor.ts';
import { exp } from '../../../src/units/exact-math.ts';
import {
  PICTURE_HEIGHT,
  PICTURE_WIDTH,
  ticksPerFrame,
  ticksPerLine,
  ticksToSeconds,
} from '../../../src/units/timing.ts';
import { PlainDecays } from './plain-decays.ts';

/** The time constants of all primaries, each once, and what a unit impulse of each primary adds to each mode (1/s). */
function phosphorModes({ primaries }: Phosphor): { tauS: Float64Array; unitImpulse: Float64Array } {
  const tauS = Float64Array.from([...new Set(primaries.flat().map((term) => term.tauS))].sort((a, b) => a - b));
  const unitImpulse = new Float64Array(tauS.length * 3);
  for (const [p, terms] of primaries.entries()) {
    for (const term of terms) unitImpulse[tauS.indexOf(term.tauS) * 3 + p]! += term.amplitudePerS;
  }
  return { tauS, unitImpulse };
}

/** Shape: `[code]`, cd/m2 s; not 0 for a code that makes an impulse. */
function exposureOf(area: Float64Array, unitImpulse: Float64Array, emittedS: Float64Array): Float64Array {
  const share = [0, 0, 0];
  for (let m = 0; m < emittedS.length; m++) {
    for (let p = 0; p < 3; p++) share[p]! += unitImpulse[m * 3 + p]! * emittedS[m]!;
  }
  const exposure = new Float64Array(area.length / 3);
  for (let code = 0; code < exposure.length; code++) {
    for (let p = 0; p < 3; p++) exposure[code]! += area[code * 3 + p]! * share[p]!;
  }
  return exposure;
}

/**
 * A tube: dot x of row y excites the phosphors at `tTop + round(y * tPerRow) + round(x * tPerRow / 341)`.
 *
 * The area of the impulse is such that a steady white field has a time mean of `whiteCdM2` over the nominal frame. Dots
 * without drive are no event. The beam has no width of its own: the spot of the sensor is wider.
 */
export class PlainTube implements Panel, ImpulseRow {
  readonly tauS: Float64Array;
  readonly constantCdM2 = 0;
  readonly isPureShift = true;
  readonly sees: { readonly firstLine: number; readonly lastLine: number };
  readonly emittedS: Float64Array;
  readonly lasting: Float64Array;
  readonly #context: PanelContext;
  readonly #spot: SpotWeights;
  readonly #decays: PlainDecays;
  /** Shape: `[mode * 3 + primary]`, 1/s. */
  readonly #unitImpulse: Float64Array;
  /** Impulse area by code and primary for a spot weight of 1, cd/m2 s. Shape: `[code * 3 + primary]`. */
  readonly #area: Float64Array;
  /** What of the area comes as light while the spot's part of a row is scanned, by code, cd/m2 s. 0 = no impulse. */
  readonly #exposure: Float64Array;
  readonly #jump: Float64Array;
  #firstGathered = 0;
  #gatheredRow = 0;
  #gatheredEnd = 0;
  /** The next dot to look at: presentation, row and dot of the spot. */
  #presentation: number;
  #row = 0;
  #dot = 0;

  constructor(whiteCdM2: number, phosphorSet: Phosphor, context: PanelContext) {
    const { timing, spectralWeights } = context;
    const { tauS, unitImpulse } = phosphorModes(phosphorSet);
    this.tauS = tauS;
    this.#unitImpulse = unitImpulse;
    this.#context = context;
    this.#presentation = context.firstPresentation;
    this.#spot = context.optics.spot(context.aim, PICTURE_HEIGHT);
    const { firstRow, rowCount, dotCount } = this.#spot;
    this.sees = { firstLine: firstRow, lastLine: firstRow + (dotCount > 0 ? rowCount : 0) - 1 };
    const whiteArea = whiteCdM2 * ticksToSeconds(timing, ticksPerFrame(timing));
    const light = linearPrimaries(timing.swapsRedGreenEmphasis);
    this.#area = light.map((linear, i) => whiteArea * spectralWeights[i % 3]! * linear);
    this.#decays = new PlainDecays(tauS, timing);
    const rowSeconds = ticksToSeconds(timing, (dotCount + 1) * timing.dotDivider);
    this.lasting = tauS.map((tau) => exp(-rowSeconds / tau));
    this.emittedS = tauS.map((tau, m) => tau * (1 - this.lasting[m]!));
    this.#exposure = exposureOf(this.#area, unitImpulse, this.emittedS);
    this.#jump = new Float64Array(tauS.length);
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
    for (; this.#dot < dotCount; this.#dot++) {
      const tick = this.#dotTick(presentation, line, firstDot + this.#dot);
      if (tick > limit) return Number.POSITIVE_INFINITY;
      if (this.#exposure[this.#codes(presentation)[line * PICTURE_WIDTH + firstDot + this.#dot]!]! > 0) return tick;
    }
    return -1;
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
    const { dotCount, weight } = this.#spot;
    const share = weight[row * dotCount + dot]!;
    const red = share * this.#area[code * 3]!;
    const green = share * this.#area[code * 3 + 1]!;
    const blue = share * this.#area[code * 3 + 2]!;
    const unit = this.#unitImpulse;
    const jump = this.#jump;
    for (let m = 0; m < jump.length; m++) {
      jump[m] = red * unit[m * 3]! + green * unit[m * 3 + 1]! + blue * unit[m * 3 + 2]!;
    }
  }

  ticksLeft(cutTick: number): number {
    const { firstRow, firstDot, rowCount, dotCount } = this.#spot;
    const presentation = this.#context.chain.at(this.#presentation);
    if (presentation === undefined || this.#row >= rowCount || dotCount === 0) return 0;
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
    let [dot, lastLit, sum] = [this.#dot, -1, 0];
    for (; dot < dotCount; dot++) {
      if (this.#dotTick(presentation, line, firstDot + dot) > limit) return 'open';
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

  /** The dots gathered, one after the other. */
  #sumOf(presentation: Presentation, codes: Uint16Array, firstCode: number, poles: PoleKicks): ImpulseSum {
    const { firstDot } = this.#spot;
    const sum = { tick: 0, jumpCdM2: new Float64Array(this.tauS.length), kicks: new Float64Array(poles.kickCount) };
    let last = Number.NaN;
    for (let dot = this.#dot; dot < this.#gatheredEnd; dot++) {
      const code = codes[firstCode + dot]!;
      if (this.#exposure[code] === 0) continue;
      const tick = Math.round(((firstDot + dot) * presentation.tPerRow) / this.#context.timing.dotsPerLine);
      const ticks = Number.isNaN(last) ? 0 : tick - last;
      const decay = this.#decays.after(ticks);
      this.#jumpOf(this.#row, dot, code);
      for (let m = 0; m < decay.length; m++) sum.jumpCdM2[m] = sum.jumpCdM2[m]! * decay[m]! + this.#jump[m]!;
      poles.kick(sum.kicks, ticks, this.#jump);
      last = tick;
    }
    return sum;
  }

  rowsAfter(cutTick: number, limit: number): RowTimes | undefined {
    this.nextChange(limit);
    const { firstRow, firstDot, rowCount, dotCount } = this.#spot;
    const presentation = this.#context.chain.at(this.#presentation);
    if (presentation === undefined || this.#row >= rowCount || dotCount === 0) return undefined;
    if (firstRow < presentation.yFirst || firstRow + rowCount - 1 > presentation.yLast) return undefined;
    const tickOf = (row: number, dot: number) => this.#dotTick(presentation, firstRow + row, firstDot + dot);
    const isLit = (row: number, dot: number) =>
      tickOf(row, dot) <= limit && this.#exposureAt(presentation, row, dot) > 0;
    const dots = Array.from({ length: dotCount }, (_, dot) => dot);
    let row = this.#row;
    if (cutTick >= tickOf(row, 0)) {
      if (tickOf(row, dotCount - 1) > limit || dots.some((dot) => dot >= this.#dot && isLit(row, dot)))
        return undefined;
      row++;
    }
    while (row < rowCount && !dots.some((dot) => isLit(row, dot))) {
      if (tickOf(row, dotCount - 1) > limit) return undefined;
      row++;
    }
    if (row === rowCount) return undefined;
    this.#firstGathered = row;
    return {
      first: tickOf(row, 0) - cutTick,
      firstEnd: tickOf(row, dotCount - 1) - cutTick,
      end: tickOf(rowCount - 1, dotCount - 1) - cutTick,
    };
  }

  #exposureAt(presentation: Presentation, row: number, dot: number): number {
    const { firstRow, firstDot } = this.#spot;
    return this.#exposure[this.#codes(presentation)[(firstRow + row) * PICTURE_WIDTH + firstDot + dot]!]!;
  }

  /** All rows anew, one impulse after the other. */
  gatherRows(room: RowRoom, limit: number, poles: RowPoles, bounds = { most: 0, least: 0, filtered: 0 }): Gathered {
    const { firstRow, firstDot, rowCount, dotCount, weight } = this.#spot;
    const presentation = this.#context.chain.at(this.#presentation)!;
    const codes = this.#codes(presentation);
    const tickOf = (row: number, dot: number) => this.#dotTick(presentation, firstRow + row, firstDot + dot);
    const [jumps, kicks] = [new Float64Array(this.tauS.length), new Float64Array(poles.kickCount)];
    let [tick, filtered, most, least] = [Number.NaN, 0, 0, Number.POSITIVE_INFINITY];
    let sum: ImpulseSum | undefined;
    for (let row = this.#firstGathered; row < rowCount; row++) {
      const [start, end] = [tickOf(row, 0), tickOf(row, dotCount - 1)];
      let exposure = 0;
      for (let dot = 0; dot < dotCount; dot++) {
        if (tickOf(row, dot) > limit || this.#exposureAt(presentation, row, dot) === 0) continue;
        exposure += weight[row * dotCount + dot]! * this.#exposureAt(presentation, row, dot);
      }
      const isOver = end <= limit;
      if (isOver && exposure === 0) continue;
      const rise = exposure * poles.perExposure;
      most = Number.isNaN(tick) ? rise : Math.max(most, poles.mostAfter(start - tick, filtered, jumps) + rise);
      if (!Number.isNaN(tick)) least = Math.min(least, filtered, poles.filteredAfter(end - tick, jumps, kicks));
      if (!isOver) {
        if (most > room.most || least < room.least) break;
        return 'open';
      }
      for (let dot = 0; dot < dotCount; dot++) {
        if (this.#exposureAt(presentation, row, dot) === 0) continue;
        const ticks = Number.isNaN(tick) ? 0 : tickOf(row, dot) - tick;
        const decay = this.#decays.after(ticks);
        this.#jumpOf(row, dot, codes[(firstRow + row) * PICTURE_WIDTH + firstDot + dot]!);
        for (let m = 0; m < decay.length; m++) jumps[m] = flushed(jumps[m]! * decay[m]!) + this.#jump[m]!;
        poles.kick(kicks, ticks, this.#jump);
        tick = tickOf(row, dot);
      }
      filtered = poles.filtered(jumps, kicks);
      most = Math.max(most, poles.mostAfter(0, filtered, jumps));
      if (most > room.most || least < room.least) break;
      Object.assign(bounds, { most, least, filtered });
      this.#gatheredRow = row;
      sum = { tick, jumpCdM2: jumps.slice(), kicks: kicks.slice() };
    }
    if (sum === undefined) return 'none';
    this.#gatheredEnd = this.#endOfImpulses(presentation, this.#gatheredRow);
    return sum;
  }

  #endOfImpulses(presentation: Presentation, row: number): number {
    let end = this.#spot.dotCount;
    while (this.#exposureAt(presentation, row, end - 1) === 0) end--;
    return end;
  }

  passAfter(cutTick: number, limit: number): PassTimes | undefined {
    const { firstRow, firstDot, rowCount, dotCount } = this.#spot;
    if (rowCount * dotCount === 0) return undefined;
    for (;;) {
      const presentation = this.#context.chain.at(this.#presentation);
      if (presentation === undefined) return undefined;
      const tickOf = (row: number, dot: number) => this.#dotTick(presentation, firstRow + row, firstDot + dot);
      if (cutTick < tickOf(0, 0)) {
        [this.#row, this.#dot] = [0, 0];
        if (firstRow < presentation.yFirst || firstRow + rowCount - 1 > presentation.yLast) return undefined;
        const end = tickOf(0, 0) + ticksPerFrame(this.#context.timing) - ticksPerLine(this.#context.timing);
        if (this.#litRows(presentation, limit).length > 0) return { topTick: presentation.tTop, endTick: end };
        if (tickOf(rowCount - 1, dotCount - 1) > limit) return undefined;
      } else if (this.#nextOf(presentation, limit) >= 0) return undefined;
      this.takePass();
    }
  }

  /** The rows that have an impulse until then. */
  #litRows(presentation: Presentation, limit: number): number[] {
    const { firstRow, firstDot, rowCount, dotCount } = this.#spot;
    const dots = Array.from({ length: dotCount }, (_, dot) => dot);
    return Array.from({ length: rowCount }, (_, row) => row).filter((row) =>
      dots.some(
        (dot) =>
          this.#dotTick(presentation, firstRow + row, firstDot + dot) <= limit &&
          this.#exposureAt(presentation, row, dot) > 0,
      ),
    );
  }

  /** All rows anew; the light of every impulse is its area. */
  gatherPass(most: number, limit: number, poles: RowPoles): ImpulsePass | 'open' | 'none' {
    const { timing } = this.#context;
    const { firstRow, firstDot, rowCount, dotCount } = this.#spot;
    const presentation = this.#context.chain.at(this.#presentation)!;
    const { tTop } = presentation;
    const lit = this.#litRows(presentation, limit);
    const tickOf = (row: number, dot: number) => this.#dotTick(presentation, firstRow + row, firstDot + dot);
    const start = this.#firstGathered;
    this.#firstGathered = 0;
    const bounds = { most: 0, least: 0, filtered: 0 };
    const sum = this.gatherRows({ most, least: Number.NEGATIVE_INFINITY }, limit, poles, bounds);
    this.#firstGathered = start;
    if (sum === 'open' || sum === 'none') return sum;
    if (tickOf(rowCount - 1, dotCount - 1) > limit || this.#gatheredRow !== lit[lit.length - 1]) return 'none';
    if (lit.length < 2) return 'none';
    const end = tickOf(0, 0) - tTop + ticksPerFrame(timing) - ticksPerLine(timing);
    const last = sum.tick - tTop;
    let settled = last + ticksPerLine(timing);
    const lightAfter = (ticks: number) => {
      const decay = this.#decays.after(ticks);
      return sum.jumpCdM2.reduce((light, jump, m) => light + jump * decay[m]!, 0);
    };
    while (
      settled < end &&
      lightAfter(settled - last) >= poles.filteredAfter(settled - last, sum.jumpCdM2, sum.kicks)
    ) {
      settled = last + 2 * (settled - last);
    }
    if (settled >= end) return 'none';
    const decay = this.#decays.after(end - last);
    const jumpCdM2 = sum.jumpCdM2.map((jump, m) => flushed(jump * decay[m]!));
    const energyOf = (jumps: Float64Array) => jumps.reduce((energy, jump, m) => energy + jump * this.tauS[m]!, 0);
    let [lateExposure, first] = [-energyOf(jumpCdM2), Number.NaN];
    for (const row of lit) {
      for (let dot = 0; dot < dotCount; dot++) {
        if (this.#exposureAt(presentation, row, dot) === 0) continue;
        if (Number.isNaN(first)) first = tickOf(row, dot) - tTop;
        if (row === lit[0]) continue;
        const code = this.#codes(presentation)[(firstRow + row) * PICTURE_WIDTH + firstDot + dot]!;
        this.#jumpOf(row, dot, code);
        lateExposure += energyOf(this.#jump);
      }
    }
    const filtered = poles.filteredAfter(end - last, sum.jumpCdM2, sum.kicks);
    const least = Math.min(bounds.least, bounds.filtered, poles.filteredAfter(settled - last, sum.jumpCdM2, sum.kicks));
    return { first, settled, end, jumpCdM2, filtered, most: bounds.most, least, lateExposure };
  }

  isLastUntil(tick: number): boolean {
    const next = this.#context.chain.at(this.#presentation + 1);
    return next === undefined || this.#dotTick(next, this.#spot.firstRow, this.#spot.firstDot) > tick;
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
