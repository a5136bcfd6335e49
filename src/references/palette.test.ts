import { describe, expect, test } from 'vitest';
import { Fingerprint } from '../units/hash.ts';
import {
  BLACK_MV,
  CHROMA_GAIN,
  decodeSignal,
  LUMINANCE_WEIGHTS,
  linearPrimaries,
  stepMillivolts,
  WHITE_MV,
  weightedLight,
} from './palette.ts';

const luminance = weightedLight(false, LUMINANCE_WEIGHTS);

/** Derived tables of relative luminance, columns 0..D, rows 0..3; made with another program from the measured volts. */
const PLAIN = `
0.1017 0.0233 0.0260 0.0280 0.0278 0.0263 0.0216 0.0175 0.0239 0.0372 0.0425 0.0342 0.0248 0
0.3825 0.1058 0.1037 0.1077 0.1087 0.1052 0.1002 0.1030 0.1289 0.1668 0.1814 0.1578 0.1245 0
1.0000 0.3452 0.2959 0.3128 0.3647 0.3464 0.3799 0.4158 0.4782 0.5411 0.5592 0.5186 0.4511 0.0577
1.0000 0.6791 0.6472 0.6414 0.6580 0.6582 0.6857 0.7138 0.7448 0.7681 0.7735 0.7582 0.7291 0.4558`;
const ALL_EMPHASISED = `
0.0321 0.0073 0.0097 0.0094 0.0087 0.0085 0.0064 0.0029 0.0044 0.0093 0.0112 0.0081 0.0052 0
0.1567 0.0382 0.0400 0.0427 0.0430 0.0407 0.0358 0.0331 0.0435 0.0618 0.0693 0.0578 0.0435 0
0.4872 0.1760 0.1611 0.1636 0.1641 0.1643 0.1680 0.1838 0.2154 0.2501 0.2605 0.2386 0.2029 0.0148
0.4872 0.3240 0.3113 0.3046 0.3035 0.3078 0.3176 0.3325 0.3493 0.3622 0.3652 0.3567 0.3408 0.1965`;

const rowsOf = (table: string): number[][] =>
  table
    .trim()
    .split('\n')
    .map((row) => row.split(' ').map(Number));

describe('luminance of the colour codes from the volts of the wiki page "NTSC video"', () => {
  test.each([
    ['without emphasis', PLAIN, 0],
    ['with all three bits', ALL_EMPHASISED, 7],
  ])('%s', (_, table, emphasis) => {
    for (const [row, values] of rowsOf(table).entries()) {
      for (const [column, value] of values.entries()) {
        const code = emphasis * 64 + row * 16 + column;
        expect(Math.abs(luminance[code]! - value), `code ${code.toString(16)}`).toBeLessThan(0.0002);
      }
    }
  });

  // columns $00, $10, $20, $2D, $3D
  test.each([
    [1, [0.0603, 0.251, 0.7054, 0.0318, 0.3053]],
    [2, [0.072, 0.2878, 0.7876, 0.0391, 0.3475]],
    [3, [0.0429, 0.1939, 0.5752, 0.0211, 0.2398]],
    [4, [0.0589, 0.246, 0.6696, 0.031, 0.2996]],
    [5, [0.0385, 0.1785, 0.5384, 0.0185, 0.2218]],
    [6, [0.0421, 0.1913, 0.5691, 0.0206, 0.2367]],
    [7, [0.0321, 0.1567, 0.4872, 0.0148, 0.1965]],
  ])('greys with emphasis bits %i', (emphasis, values) => {
    for (const [i, code] of [0x00, 0x10, 0x20, 0x2d, 0x3d].entries()) {
      expect(Math.abs(luminance[emphasis * 64 + code]! - values[i]!), `code ${code}`).toBeLessThan(0.0002);
    }
  });

  test('columns $E and $F are black with any emphasis', () => {
    for (let code = 0; code < 512; code++) if ((code & 15) >= 14) expect(luminance[code]).toBe(0);
  });
});

test.each([
  [0x16, [0.6587, 0.2349, 0.0019]],
  [0x2a, [0.3164, 0.8905, 0.3065]],
  [0x12, [0.335, 0.2056, 1.0013]],
])('signals of code %i before the power (derived from "NTSC video")', (code, values) => {
  const signal = decodeSignal(code, false);
  for (const [i, value] of values.entries()) expect(Math.abs(signal[i]! - value)).toBeLessThan(0.0002);
});

test('mean luma of the coloured rows, normalised: 0.1396 0.3350 0.6523 0.8604, emphasised 0.0431 0.1954 0.4569 0.6244', () => {
  const meanLuma = (code: number) => {
    let sum = 0;
    for (let step = 0; step < 12; step++) sum += stepMillivolts(code, step, false);
    return (sum / 12 - BLACK_MV) / (WHITE_MV - BLACK_MV);
  };
  for (const [row, value] of [0.1396, 0.335, 0.6523, 0.8604].entries()) {
    for (let column = 1; column <= 12; column++) expect(meanLuma(row * 16 + column)).toBeCloseTo(value, 4);
  }
  for (const [row, value] of [0.0431, 0.1954, 0.4569, 0.6244].entries()) {
    expect(meanLuma(7 * 64 + row * 16 + 6)).toBeCloseTo(value, 4);
  }
});

test('chroma gain 0.759878, from burst 148 and 524 mV', () => {
  expect(CHROMA_GAIN).toBeCloseTo(0.759878, 6);
});

test('on the 50 Hz timings emphasis bits 5 and 6 change places', () => {
  const swapped = linearPrimaries(true);
  const plain = linearPrimaries(false);
  for (let code = 0; code < 512; code++) {
    const emphasis = code >> 6;
    const exchanged = (emphasis & 4) | ((emphasis & 1) << 1) | ((emphasis & 2) >> 1);
    for (let p = 0; p < 3; p++) expect(swapped[code * 3 + p]).toBe(plain[((exchanged << 6) | (code & 63)) * 3 + p]);
  }
});

test('each emphasis bit leaves its own primary brightest: red, green, blue', () => {
  for (const [bit, primary] of [0, 1, 2].entries()) {
    const [r, g, b] = decodeSignal(0x20 | (64 << bit), false);
    expect([r, g, b].indexOf(Math.max(r, g, b))).toBe(primary);
  }
});

test('the table has the same bytes everywhere', () => {
  const print = new Fingerprint();
  for (const value of linearPrimaries(false)) print.addDouble(value);
  expect(print.digest()).toBe('c1c266b70967f782');
});
