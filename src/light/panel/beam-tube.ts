import { linearPrimaries } from '../../references/palette.ts';
import { PHOSPHORS, type Phosphor } from '../../references/phosphor.ts';
import type { ModelSpec, Sourced } from '../../references/sourced.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH, ticksPerFrame, ticksToSeconds } from '../../units/timing.ts';
import type { LightModes } from '../light-modes.ts';
import type { SpotWeights } from '../optics/optics.ts';
import { checkParameters } from '../parameters.ts';
import { restoreNumber, type SavedState } from '../saved-state.ts';
import type { Presentation } from '../signal/signal-stage.ts';
import { type Panel, type PanelContext, type PanelModel, presentedCodes } from './panel.ts';

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

/**
 * A tube: dot x of row y excites the phosphors at `tTop + round(y * tPerRow) + round(x * tPerRow / 341)`.
 *
 * The area of the impulse is such that a steady white field has a time mean of `whiteCdM2` over the nominal frame. Dots
 * without drive are no event. The beam has no width of its own: the spot of the sensor is wider.
 */
class BeamTube implements Panel {
  readonly tauS: Float64Array;
  readonly constantCdM2 = 0;
  readonly isPureShift = true;
  readonly sees: { readonly firstLine: number; readonly lastLine: number };
  readonly #context: PanelContext;
  readonly #spot: SpotWeights;
  /** Shape: `[mode * 3 + primary]`, 1/s. */
  readonly #unitImpulse: Float64Array;
  /** Impulse area by code and primary for a spot weight of 1, cd/m2 s. Shape: `[code * 3 + primary]`. */
  readonly #area: Float64Array;
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
      const area = this.#codeAt(presentation, line, firstDot + this.#dot) * 3;
      if (this.#area[area]! + this.#area[area + 1]! + this.#area[area + 2]! > 0) return tick;
    }
    return -1;
  }

  #dotTick(presentation: Presentation, line: number, dot: number): number {
    const { tTop, tPerRow } = presentation;
    return tTop + Math.round(line * tPerRow) + Math.round((dot * tPerRow) / this.#context.timing.dotsPerLine);
  }

  #codeAt(presentation: Presentation, line: number, dot: number): number {
    return presentedCodes(this.#context.history, presentation, this.sees)[line * PICTURE_WIDTH + dot]!;
  }

  applyChange({ amplitudeCdM2 }: LightModes): void {
    const { firstRow, firstDot, dotCount, weight } = this.#spot;
    const presentation = this.#context.chain.at(this.#presentation)!;
    const code = this.#codeAt(presentation, firstRow + this.#row, firstDot + this.#dot);
    const share = weight[this.#row * dotCount + this.#dot]!;
    const red = share * this.#area[code * 3]!;
    const green = share * this.#area[code * 3 + 1]!;
    const blue = share * this.#area[code * 3 + 2]!;
    const unit = this.#unitImpulse;
    for (let m = 0; m < amplitudeCdM2.length; m++) {
      amplitudeCdM2[m]! += red * unit[m * 3]! + green * unit[m * 3 + 1]! + blue * unit[m * 3 + 2]!;
    }
    this.#dot++;
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
