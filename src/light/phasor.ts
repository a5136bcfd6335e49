/** A complex number. As the state of an oscillation: its value t later is the real part of `phasor e^(i w t)`. */
export interface Phasor {
  readonly re: number;
  readonly im: number;
}

export const NO_PHASOR: Phasor = { re: 0, im: 0 };

export const product = (a: Phasor, b: Phasor): Phasor => ({
  re: a.re * b.re - a.im * b.im,
  im: a.re * b.im + a.im * b.re,
});

export function quotient(a: Phasor, b: Phasor): Phasor {
  const square = b.re * b.re + b.im * b.im;
  return { re: (a.re * b.re + a.im * b.im) / square, im: (a.im * b.re - a.re * b.im) / square };
}

export const difference = (a: Phasor, b: Phasor): Phasor => ({ re: a.re - b.re, im: a.im - b.im });

export const modulus = ({ re, im }: Phasor): number => Math.sqrt(re * re + im * im);

/** What filters make of an oscillation: the real part of the product, `a` times the phasor of the oscillation. */
export const realPart = (a: Phasor, b: Phasor): number => a.re * b.re - a.im * b.im;

/**
 * Upper bound of an oscillation between two moments at which it is `from` and `to`, none of it larger than `size`.
 * `turnRad` = |pole| x time between them: it lies above its chord by no more than the largest second derivative / 8.
 */
export const largestBetween = (from: number, to: number, size: number, turnRad: number): number =>
  Math.min(size, Math.max(from, to) + (size * turnRad * turnRad) / 8);

export const leastBetween = (from: number, to: number, size: number, turnRad: number): number =>
  -largestBetween(-from, -to, size, turnRad);
