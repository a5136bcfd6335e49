import type { ModelSpec, Sourced } from '../../references/sourced.ts';

const assumed = (value: number, unit: string, source: string): Sourced => ({ value, unit, source, kind: 'assumed' });
const CORNER = assumed(5000, 'Hz', 'assumed: 31.8 us, four polls; passes flicker, weakens the line rate by 10.4 dB');
const THRESHOLD = assumed(25, 'cd/m2', 'assumed: a quarter of the white of a studio tube');
const HYSTERESIS = assumed(0.2, '', 'assumed: within the 10 to 30 % of common practice');
const silicon = (value: number): Sourced => ({
  value,
  unit: '',
  kind: 'derived',
  source:
    'derived: energy of P22 in a frame (UCAM-CL-TR-577, section 6) x silicon 0.50, 0.40, 0.33 A/W at 625, 530, 450 nm',
});
const luminous = (value: number): Sourced => ({ value, unit: '', source: 'Rec. ITU-R BT.709', kind: 'published' });

const band = { cornerHz: CORNER, thresholdCdM2: THRESHOLD, hysteresis01: HYSTERESIS };

/** What forms and schemas need to know of the wide-band sensor. */
export const WIDE_BAND_SPEC: ModelSpec = {
  kind: 'wide-band',
  title: 'wide-band sensor with baseline',
  what: 'Low-passes the light, subtracts a baseline that follows down at once and up slowly, compares with a threshold.',
  parameters: [
    { name: 'cornerHz', title: 'corner of the low-pass', unit: 'Hz', min: 10, max: 1_000_000, standard: CORNER },
    { name: 'thresholdCdM2', title: 'threshold', unit: 'cd/m2', min: 0.01, max: 100_000, standard: THRESHOLD },
    { name: 'hysteresis01', title: 'hysteresis, share of threshold', unit: '', min: 0, max: 0.9, standard: HYSTERESIS },
    { name: 'weightRed', title: 'sensitivity to red', unit: '', min: 0, max: 1, standard: silicon(0.252) },
    { name: 'weightGreen', title: 'sensitivity to green', unit: '', min: 0, max: 1, standard: silicon(0.398) },
    { name: 'weightBlue', title: 'sensitivity to blue', unit: '', min: 0, max: 1, standard: silicon(0.35) },
  ],
  presets: [
    {
      id: 'silicon',
      title: 'bare silicon diode',
      values: { ...band, weightRed: silicon(0.252), weightGreen: silicon(0.398), weightBlue: silicon(0.35) },
    },
    {
      id: 'photometric',
      title: 'diode with an eye-response filter',
      values: { ...band, weightRed: luminous(0.2126), weightGreen: luminous(0.7152), weightBlue: luminous(0.0722) },
    },
  ],
};
