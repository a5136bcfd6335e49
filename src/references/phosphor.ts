/**
 * Decay of tube phosphors after a short excitation.
 *
 * Source of the measured set: M. G. Kuhn, "Optical Time-Domain Eavesdropping Risks of CRT Displays", IEEE S&P 2002, and
 * UCAM-CL-TR-577 (2003), section 6: radiant intensity of a colour monitor's P22 phosphors, W/(V s sr). The coefficients
 * are from memory; the report's printed drops in the first 100 ns (blue -1500, red -34) agree with them.
 */

/** One exponential: amplitude in the source's unit, corner frequency in Hz (time constant 1 / (2 pi f)). */
type CornerTerm = readonly [amplitude: number, cornerHz: number];

export const P22_RED: readonly CornerTerm[] = [
  [4, 360],
  [1.75, 1.6e3],
  [2, 8e3],
  [2.25, 25e3],
  [15, 700e3],
  [29, 7e6],
];

export const P22_GREEN_FAST: readonly CornerTerm[] = [
  [37, 150e3],
  [100, 700e3],
  [90, 5e6],
];

export const P22_BLUE_FAST: readonly CornerTerm[] = [
  [75, 100e3],
  [1000, 1.1e6],
  [1100, 4e6],
];

/** Slow tail of green and blue: scale (t + offset)^-exponent, t in s. */
export const P22_GREEN_TAIL_LAW = { scale: 210e-6, offsetS: 5.5e-6, exponent: 1.1 } as const;
export const P22_BLUE_TAIL_LAW = { scale: 190e-6, offsetS: 5.0e-6, exponent: 1.11 } as const;

/** The same tails as sums of exponentials: derived, non-negative least squares, within 1.05 % over 0.1 us .. 16.6 ms. */
export const P22_TAIL_TAU_S = [2e-6, 6e-6, 20e-6, 60e-6, 200e-6, 600e-6, 2e-3, 6e-3, 20e-3] as const;
export const P22_GREEN_TAIL = [26.829, 58.6, 28.127, 10.198, 2.9457, 0.84688, 0.25912, 0.050444, 0.036122] as const;
export const P22_BLUE_TAIL = [36.454, 64.911, 29.264, 10.286, 2.9223, 0.82961, 0.25026, 0.048559, 0.033919] as const;

/** One exponential of a unit impulse response: `amplitudePerS` e^(-t / tauS). */
export interface PhosphorTerm {
  readonly amplitudePerS: number;
  readonly tauS: number;
}

/** Impulse responses of the three primaries, each with an energy (integral over all time) of 1. */
export interface Phosphor {
  readonly id: string;
  readonly title: string;
  readonly source: string;
  readonly primaries: readonly (readonly PhosphorTerm[])[];
}

const ofCorner = ([amplitude, cornerHz]: CornerTerm): PhosphorTerm => ({
  amplitudePerS: amplitude,
  tauS: 1 / (2 * Math.PI * cornerHz),
});

const ofTail = (amplitudes: readonly number[]): PhosphorTerm[] =>
  P22_TAIL_TAU_S.map((tauS, i) => ({ amplitudePerS: amplitudes[i]!, tauS }));

function withUnitEnergy(terms: readonly PhosphorTerm[]): PhosphorTerm[] {
  const energy = terms.reduce((sum, { amplitudePerS, tauS }) => sum + amplitudePerS * tauS, 0);
  return terms.map(({ amplitudePerS, tauS }) => ({ amplitudePerS: amplitudePerS / energy, tauS }));
}

/** One exponential a primary, for quick looks. Common practice: 0.4 ms red, 30 us green and blue. */
const simple = (tauS: number): PhosphorTerm[] => [{ amplitudePerS: 1 / tauS, tauS }];

/** The phosphors that a tube can be given; a tube's parameter counts them from 1. */
export const PHOSPHORS: readonly Phosphor[] = [
  {
    id: 'p22',
    title: 'P22, measured',
    source: 'M. G. Kuhn, UCAM-CL-TR-577 (2003), section 6 (coefficients from memory); tails fitted by 9 exponentials',
    primaries: [
      withUnitEnergy(P22_RED.map(ofCorner)),
      withUnitEnergy([...P22_GREEN_FAST.map(ofCorner), ...ofTail(P22_GREEN_TAIL)]),
      withUnitEnergy([...P22_BLUE_FAST.map(ofCorner), ...ofTail(P22_BLUE_TAIL)]),
    ],
  },
  {
    id: 'simple',
    title: 'one exponential a primary',
    source: 'common practice: 0.4 ms red, 30 us green and blue',
    primaries: [simple(0.4e-3), simple(30e-6), simple(30e-6)],
  },
];

/** Size of what a primary makes of an excitation that swings with this frequency; 1 at 0 Hz. */
export function harmonicContent(terms: readonly PhosphorTerm[], frequencyHz: number): number {
  let [inPhase, behind] = [0, 0];
  for (const { amplitudePerS, tauS } of terms) {
    const turn = 2 * Math.PI * frequencyHz * tauS;
    inPhase += (amplitudePerS * tauS) / (1 + turn * turn);
    behind += (amplitudePerS * tauS * turn) / (1 + turn * turn);
  }
  return Math.sqrt(inPhase * inPhase + behind * behind);
}
