import { linearPrimaries } from '../../references/palette.ts';
import { PHOSPHORS, type Phosphor } from '../../references/phosphor.ts';
import type { ModelSpec, Sourced } from '../../references/sourced.ts';
import { exp } from '../../units/exact-math.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH, ticksPerFrame, ticksToSeconds } from '../../units/timing.ts';
import { type Decays, decaysOf, type LightModes } from '../light-modes.ts';
import type { SpotWeights } from '../optics/optics.ts';
import { checkParameters } from '../parameters.ts';
import { restoreNumber, type SavedState } from '../saved-state.ts';
import type { Presentation } from '../signal/signal-stage.ts';
import {
  type Gathered,
  type ImpulseRow,
  type ImpulseSum,
  type Panel,
  type PanelContext,
  type PanelModel,
  type PoleKicks,
  presentedCodes,
} from './panel.ts';

const white = (value: number, kind: Sourced['kind'], source: string): Sourced => ({
  value,
  unit: 'cd/m2',
  source,
  kind,
});
const phosphor = (number: number): Sourced => ({
  value: number,
  unit: '',
  source: PHOSPHORS[number - 1]!.source,
  kind: number === 1 ? 'measured' : 'common practice',
});
const STUDIO = white(100, 'common practice', 'from memory: studio practice 80 to 100 cd/m2');

const spec: ModelSpec = {
  kind: 'beam-tube',
  title: 'picture tube',
  what: 'Excites the phosphors dot by dot as the signal comes; each dot is an impulse that fades.',
  parameters: [
    {
      name: 'whiteCdM2',
      title: 'mean luminance of a white field',
      unit: 'cd/m2',
      min: 1,
      max: 2000,
      standard: STUDIO,
    },
    {
      name: 'phosphor',
      title: `phosphor (${PHOSPHORS.map(({ title }, i) => `${i + 1}: ${title}`).join('; ')})`,
      unit: '',
      min: 1,
      max: PHOSPHORS.length,
      isInteger: true,
      standard: phosphor(1),
    },
  ],
  presets: [
    { id: 'studio-tube', title: 'studio monitor', values: { whiteCdM2: STUDIO, phosphor: phosphor(1) } },
    {
      id: 'home-tube',
      title: 'television, 20 to 27 inches',
      values: {
        whiteCdM2: white(120, 'common practice', 'from memory: 60 to 250 cd/m2, typically 120'),
        phosphor: phosphor(1),
      },
    },
    {
      id: 'simple-tube',
      title: 'studio monitor with one exponential a primary',
      values: { whiteCdM2: STUDIO, phosphor: phosphor(2) },
    },
  ],
};

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
  readonly sees: { readonly firstLine: number; readonly lastLine: number };
  readonly emittedS: Float64Array;
  readonly lasting: Float64Array;
  readonly #context: PanelContext;
  readonly #spot: SpotWeights;
  readonly #decays: Decays;
  /** Shape: `[mode * 3 + primary]`, 1/s. */
  readonly #unitImpulse: Float64Array;
  /** Impulse area by code and primary for a spot weight of 1, cd/m2 s. Shape: `[code * 3 + primary]`. */
  readonly #area: Float64Array;
  /** What of the area comes as light while the spot's part of a row is scanned, by code, cd/m2 s. 0 = no impulse. */
  readonly #exposure: Float64Array;
  readonly #jump: Float64Array;
  /** By row and first dot: the latest sum from there. */
  readonly #sums: (RowSum | undefined)[] = [];
  #gatheredDots = 0;
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
    this.#decays = decaysOf(tauS, timing);
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
    const { dotCount, weight } = this.#spot;
    const share = weight[row * dotCount + dot]!;
    const red = share * this.#area[code * 3]!;
    const green = share * this.#area[code * 3 + 1]!;
    const blue = share * this.#area[code * 3 + 2]!;
    const unit = this.#unitImpulse;
    const jump = this.#jump;
    for (let m = 0, at = 0; m < jump.length; m++, at += 3) {
      jump[m] = red * unit[at]! + green * unit[at + 1]! + blue * unit[at + 2]!;
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
    this.#gatheredDots = lastLit + 1 - this.#dot;
    const gathered = this.#sumOf(presentation, codes, firstCode, poles);
    gathered.tick = this.#dotTick(presentation, line, firstDot + lastLit);
    return gathered;
  }

  /** The sum of the dots gathered; taken from the latest sum of this row if that was of the same dots and codes. */
  #sumOf(presentation: Presentation, codes: Uint16Array, firstCode: number, poles: PoleKicks): RowSum {
    const { dotCount, firstDot } = this.#spot;
    const place = this.#row * dotCount + this.#dot;
    const kept = this.#sums[place] ?? new RowSum(dotCount, this.tauS.length, poles.kickCount);
    this.#sums[place] = kept;
    if (kept.isOf(this.#dot, this.#gatheredDots, presentation.tPerRow, codes, firstCode)) return kept;
    kept.begin(this.#dot, this.#gatheredDots, presentation.tPerRow, codes, firstCode);
    let last = -1;
    for (let dot = this.#dot; dot < this.#dot + this.#gatheredDots; dot++) {
      const code = codes[firstCode + dot]!;
      if (this.#exposure[code] === 0) continue;
      const tick = Math.round(((firstDot + dot) * presentation.tPerRow) / this.#context.timing.dotsPerLine);
      this.#jumpOf(this.#row, dot, code);
      kept.add(last < 0 ? 0 : tick - last, this.#jump, this.#decays, poles);
      last = tick;
    }
    return kept;
  }

  take(): void {
    this.#dot += this.#gatheredDots;
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

/** A picture tube. It takes stored and unstored presentations alike. */
export const BEAM_TUBE: PanelModel = {
  spec,
  slowestS: (values) => Math.max(...phosphorModes(PHOSPHORS[values['phosphor']! - 1]!).tauS),
  create(values, context) {
    checkParameters(spec, values);
    return new BeamTube(values['whiteCdM2']!, PHOSPHORS[values['phosphor']! - 1]!, context);
  },
};
