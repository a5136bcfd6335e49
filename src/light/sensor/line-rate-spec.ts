import {
  CALIBRATED_HOLD,
  CALIBRATED_RELEASE,
  CALIBRATED_THRESHOLD,
  LINE_RATE_60_HZ,
  SIGNAL_SHARES,
} from '../../references/light-sensor.ts';
import type { ModelSpec, ParameterSpec, Sourced } from '../../references/sourced.ts';

const practice = (value: number, unit: string, source: string): Sourced => ({
  value,
  unit,
  source,
  kind: 'common practice',
});
const assumed = (value: number, unit: string, source: string): Sourced => ({ value, unit, source, kind: 'assumed' });

const ORIGINAL = {
  f0Hz: LINE_RATE_60_HZ,
  q: practice(5, '', 'common practice: 3 to 8'),
  dropCdM2: assumed(0, 'cd/m2', 'assumed: the rectifier is part of an amplifier; the hold table asks for none'),
  attackUs: practice(50, 'us', 'common practice: 20 to 100 us'),
  releaseMs: CALIBRATED_RELEASE,
  thresholdCdM2: CALIBRATED_THRESHOLD,
  hysteresis01: practice(0.3, '', 'common practice: 10 to 30 %'),
  holdMs: CALIBRATED_HOLD,
  weightRed: SIGNAL_SHARES.red,
  weightGreen: SIGNAL_SHARES.green,
  weightBlue: SIGNAL_SHARES.blue,
};
const WEAK_Q = assumed(1.5, '', 'assumed: devices of other makers have a weaker filter (hardware documentation wiki)');

/** Name, words, unit and range; the standard value is that of the original. */
const parameter = (name: keyof typeof ORIGINAL, title: string, min: number, max: number): ParameterSpec => ({
  name,
  title,
  unit: ORIGINAL[name].unit,
  min,
  max,
  standard: ORIGINAL[name],
});

/** What forms and schemas need to know of the line-rate sensor. */
export const LINE_RATE_SPEC: ModelSpec = {
  kind: 'line-rate',
  title: 'line-rate sensor',
  what: 'Passes light that swings at the line rate of a tube, rectifies it, compares its envelope with a threshold and holds.',
  parameters: [
    parameter('f0Hz', 'middle of the band-pass', 1000, 100_000),
    parameter('q', 'quality of the band-pass', 0.6, 50),
    parameter('dropCdM2', 'drop of the rectifier', 0, 100_000),
    parameter('attackUs', 'attack of the envelope', 1, 10_000),
    parameter('releaseMs', 'release of the envelope', 0.01, 100),
    parameter('thresholdCdM2', 'threshold', 0.01, 100_000),
    parameter('hysteresis01', 'hysteresis, share of threshold', 0.01, 0.9),
    parameter('holdMs', 'hold', 0, 100),
    parameter('weightRed', 'share of red in the signal of a white tube', 0, 1),
    parameter('weightGreen', 'share of green in the signal of a white tube', 0, 1),
    parameter('weightBlue', 'share of blue in the signal of a white tube', 0, 1),
  ],
  presets: [
    { id: 'original', title: 'original device', values: ORIGINAL },
    { id: 'weak-filter', title: 'device with a weaker filter', values: { ...ORIGINAL, q: WEAK_Q } },
  ],
};
