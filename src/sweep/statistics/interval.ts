/** Limits of a proportion or of a difference of proportions. */
export interface Interval {
  readonly low: number;
  readonly high: number;
}

/** The z of a two-sided interval with 95 % confidence. Derived: normal quantile of 0.025. */
export const Z_95 = 1.959963984540054;
