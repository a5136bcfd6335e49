import type { Sourced } from './sourced.ts';

/**
 * How much the light of lamps on the mains goes up and down, at twice the mains frequency: percent flicker =
 * 100 (max - min) / (max + min). Ranges are in the sources.
 */

const percent = (value: number, source: string, kind: Sourced['kind'] = 'published'): Sourced => ({
  value,
  unit: '%',
  source,
  kind,
});

const FACT_SHEET = 'US DOE/PNNL flicker fact sheet, 2013 (numbers from memory)';

export const LAMP_FLICKER = {
  incandescent: percent(6.6, `${FACT_SHEET}: incandescent 60 to 100 W, 3 to 20 %`),
  fluorescent: percent(28.4, `${FACT_SHEET}: T12 tube on a magnetic ballast, 25 to 40 %`),
  compactMagnetic: percent(37, `${FACT_SHEET}: compact fluorescent lamp on a magnetic ballast`),
  compactElectronic: percent(8, 'from memory: lamp on an electronic ballast, 2 to 20 %', 'common practice'),
  ledTypical: percent(30, 'PNNL (from memory): retail LED lamps, typically 30 %, 5 to 60 % and more'),
  ledDirect: percent(100, 'from memory: LEDs straight on the mains without a capacitor', 'common practice'),
} as const satisfies Record<string, Sourced>;

const mains = (value: number, source: string): Sourced => ({ value, unit: 'Hz', source, kind: 'common practice' });

/** Nominal mains frequencies; the real ones wander. */
export const MAINS_60_HZ = mains(60, 'common practice: 60.00 +- 0.03 Hz');
export const MAINS_50_HZ = mains(50, 'common practice: 50.00 +- 0.05 Hz, up to +- 0.2 Hz');
