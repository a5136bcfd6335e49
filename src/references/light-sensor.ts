import type { Sourced } from './sourced.ts';

/**
 * The original light-sensing device of the console, which answers to the line rate of a tube. Its circuit is not
 * published; what is known is how long it stays lit.
 */

const HOLD_TABLE = 'forum thread on calibrating the light test program, 2014, measured';

/** Line rate of the console's 60 Hz timing. */
export const LINE_RATE_60_HZ: Sourced = {
  value: 15_745.801,
  unit: 'Hz',
  source:
    'derived: 236.25 MHz / 11 / 1364 ticks a line, the tube it looks at; the broadcast rate, 15,734.266 Hz, is 0.0002 dB off',
  kind: 'derived',
};

const fitted = (value: number): Sourced => ({
  value,
  unit: '',
  source: `derived: least squares on 39 cells of the hold table (${HOLD_TABLE}), sum of squares an eighth of that with luminance`,
  kind: 'derived',
});

/** Shares of the primaries in the signal of a white tube: 0.207 R + 0.551 G + 0.242 B explains the hold table. */
export const SIGNAL_SHARES = { red: fitted(0.207), green: fitted(0.551), blue: fitted(0.242) } as const;

/**
 * The three numbers that were calibrated once on the hold table; see test/light/hold-table.test.ts. The release is shorter
 * than the 0.3 to 1.5 ms of common practice for a store without a hold: with those the table's flat end, 24 to 26 lines for
 * 2.6 times the light, does not come out.
 */
const calibrated = (value: number, unit: string): Sourced => ({
  value,
  unit,
  source: `derived: calibrated on the hold table (${HOLD_TABLE}) with a spot radius of 4 dots on a studio tube`,
  kind: 'derived',
});
export const CALIBRATED_THRESHOLD = calibrated(18, 'cd/m2');
export const CALIBRATED_RELEASE = calibrated(0.09, 'ms');
export const CALIBRATED_HOLD = calibrated(0.64, 'ms');
