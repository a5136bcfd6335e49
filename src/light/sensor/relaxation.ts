/** Bound on the rounding of a closed form, relative to the sum of its magnitudes: 64 terms of 1 to 2 ulp. */
export const ROUNDING = 4e-14;

/** Largest value of something that starts at `value` and relaxes towards at most `goal`; `decay` is what is left. */
export const relaxedMax = (value: number, goal: number, decay: number): number =>
  Math.max(value, goal + (value - goal) * decay);

export const relaxedMin = (value: number, goal: number, decay: number): number =>
  Math.min(value, goal + (value - goal) * decay);

/** Bounds keep this far from a guard, relative to what goes in: much more than rounding, much less than a dead band. */
export const SLACK = 1e-12;
