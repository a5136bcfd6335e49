import { type CartridgeImage, parseImage } from '../program/image.ts';
import { parseSymbols } from '../program/symbol-file.ts';
import { TIMINGS, type Timing } from '../units/timing.ts';
import { addressOf, compileProbes, type Probes } from './probes.ts';
import type { Scenario } from './scenario.ts';

/** A scenario with its files read: ready to run. */
export interface PreparedScenario {
  readonly scenario: Scenario;
  readonly image: CartridgeImage;
  readonly timing: Timing;
  readonly probes: Probes;
  /** Where the program keeps the delay that it calibrated, if the scenario says so. */
  readonly calibrationAddress?: number;
}

/** The files that a scenario names. */
export interface ScenarioFiles {
  readonly image: Uint8Array;
  readonly labels?: string | undefined;
}

/** Check a scenario against its files. Errors: IMAGE_*, LABELS_*, DEBUG_FILE_*, EXPRESSION_*, PARAM_RANGE. */
export function prepareScenario(scenario: Scenario, files: ScenarioFiles): PreparedScenario {
  const image = parseImage(files.image);
  const symbols = parseSymbols(files.labels, { file: scenario.labels, own: scenario.symbols });
  const id = scenario.timing === 'image' ? (image.timing === 'both' ? '60hz' : image.timing) : scenario.timing;
  const prepared = { scenario, image, timing: TIMINGS[id], probes: compileProbes(scenario, symbols) };
  if (scenario.calibration === undefined) return prepared;
  return { ...prepared, calibrationAddress: addressOf(scenario.calibration.at, symbols) };
}
