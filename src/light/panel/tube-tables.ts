import { linearPrimaries } from '../../references/palette.ts';
import { PHOSPHORS } from '../../references/phosphor.ts';
import { exp } from '../../units/exact-math.ts';
import { type Timing, ticksPerFrame, ticksToSeconds } from '../../units/timing.ts';
import { SharedTables } from '../shared-tables.ts';
import type { SpectralWeights } from './panel.ts';

/** What follows from a tube's parameters and the width of the spot. Nobody may change it: it is shared. */
export interface TubeTables {
  /** The numbers that the tables follow from. */
  readonly key: readonly number[];
  /** The time constants of all primaries, each once, ascending, s. */
  readonly tauS: Float64Array;
  /** What a unit impulse of each primary adds to each mode, 1/s. Shape: `[mode * 3 + primary]`. */
  readonly unitImpulse: Float64Array;
  /** Impulse area by code and primary for a spot weight of 1, cd/m2 s. Shape: `[code * 3 + primary]`. */
  readonly area: Float64Array;
  /** Of each mode, over the time that the spot's part of a row takes: integral, s, and what is left of it. */
  readonly emittedS: Float64Array;
  readonly lasting: Float64Array;
  /** What of the area comes as light in that time, by code, cd/m2 s. 0 = the code makes no impulse. */
  readonly exposure: Float64Array;
}

export interface TubeSetting {
  readonly whiteCdM2: number;
  /** Number of the phosphor, counted from 1. */
  readonly phosphor: number;
  readonly timing: Timing;
  readonly spectralWeights: SpectralWeights;
  /** Dots of the spot's rows. */
  readonly dotCount: number;
}

const made = new SharedTables<TubeTables>();

export function tubeTables(setting: TubeSetting): TubeTables {
  const { whiteCdM2, phosphor, timing, spectralWeights, dotCount } = setting;
  const { masterNumerator, masterDenominator, dotDivider, swapsRedGreenEmphasis } = timing;
  const clock = [masterNumerator, masterDenominator, dotDivider, ticksPerFrame(timing), Number(swapsRedGreenEmphasis)];
  const key = [whiteCdM2, phosphor, dotCount, ...spectralWeights, ...clock];
  return made.of(key, () => makeTables(setting, key));
}

function makeTables(
  { whiteCdM2, phosphor, timing, spectralWeights, dotCount }: TubeSetting,
  key: readonly number[],
): TubeTables {
  const { tauS, unitImpulse } = phosphorModes(phosphor);
  const whiteArea = whiteCdM2 * ticksToSeconds(timing, ticksPerFrame(timing));
  const light = linearPrimaries(timing.swapsRedGreenEmphasis);
  const area = light.map((linear, i) => whiteArea * spectralWeights[i % 3]! * linear);
  const rowSeconds = ticksToSeconds(timing, (dotCount + 1) * timing.dotDivider);
  const lasting = tauS.map((tau) => exp(-rowSeconds / tau));
  const emittedS = tauS.map((tau, m) => tau * (1 - lasting[m]!));
  return { key, tauS, unitImpulse, area, emittedS, lasting, exposure: exposureOf(area, unitImpulse, emittedS) };
}

/** The time constants of all primaries, each once, and what a unit impulse of each primary adds to each mode (1/s). */
export function phosphorModes(phosphor: number): { tauS: Float64Array; unitImpulse: Float64Array } {
  const { primaries } = PHOSPHORS[phosphor - 1]!;
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

/** Leaves in `jump` what an impulse of a dot adds to the modes. */
export function jumpOf({ area, unitImpulse }: TubeTables, share: number, code: number, jump: Float64Array): void {
  const red = share * area[code * 3]!;
  const green = share * area[code * 3 + 1]!;
  const blue = share * area[code * 3 + 2]!;
  for (let m = 0, at = 0; m < jump.length; m++, at += 3) {
    jump[m] = red * unitImpulse[at]! + green * unitImpulse[at + 1]! + blue * unitImpulse[at + 2]!;
  }
}
