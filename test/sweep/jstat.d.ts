/** The few functions of the statistics library that our own are held against. */
declare module 'jstat' {
  export const jStat: {
    readonly normal: {
      cdf(x: number, mean: number, deviation: number): number;
      inv(p: number, mean: number, deviation: number): number;
    };
    readonly beta: { cdf(x: number, a: number, b: number): number; inv(p: number, a: number, b: number): number };
    readonly binomial: { cdf(count: number, n: number, p: number): number };
  };
}
