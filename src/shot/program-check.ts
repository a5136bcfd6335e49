import { CATALOGUE } from '../errors/catalogue.ts';
import { errorsOf, type LatelightError } from '../errors/latelight-error.ts';
import { LARGEST_IMAGE, parseImage } from '../program/image.ts';
import type { Symbols } from '../program/labels.ts';
import { parseSymbols } from '../program/symbol-file.ts';
import { prepareScenario, type ScenarioFiles } from './prepared-scenario.ts';
import { probeFaults } from './probes.ts';
import { parseScenarioJson, readScenario, type Scenario } from './scenario.ts';

/** Bytes that a cartridge image has at most. */
export const MOST_IMAGE_BYTES = LARGEST_IMAGE;

/** What is wrong with a program or its scenario: what was found and expected, and what to do. */
export interface ProgramFault {
  readonly found: string;
  readonly cure: string;
}

/** Everything that is wrong with a scenario (JSON text) and its files, where a run stops at the first. */
export function programFaults(json: string, files: ScenarioFiles): ProgramFault[] {
  const { scenario, faults } = scenarioFaults(json);
  const { symbols, errors } = readSymbols(files.labels, scenario);
  const found = [
    ...faults,
    ...[...errorsOf(() => parseImage(files.image)), ...errors].map(faultOf),
    ...(scenario === undefined || symbols === undefined ? [] : probeFaults(scenario, symbols).map(faultOf)),
  ];
  if (found.length > 0 || scenario === undefined) return found;
  return errorsOf(() => prepareScenario(scenario, files)).map(faultOf);
}

function scenarioFaults(json: string): { scenario: Scenario | undefined; faults: ProgramFault[] } {
  const issues: string[] = [];
  let scenario: Scenario | undefined;
  const notJson = errorsOf(() => {
    scenario = readScenario(parseScenarioJson(json), issues);
  });
  const { cure } = CATALOGUE.SCENARIO_INVALID;
  return { scenario, faults: [...notJson.map(faultOf), ...issues.map((found) => ({ found, cure }))] };
}

function readSymbols(
  text: string | undefined,
  scenario: Scenario | undefined,
): { symbols: Symbols | undefined; errors: LatelightError[] } {
  let symbols: Symbols | undefined;
  const errors = errorsOf(() => {
    symbols = parseSymbols(text, { file: scenario?.labels, own: scenario?.symbols ?? {} });
  });
  return { symbols, errors };
}

const faultOf = ({ message, hint }: LatelightError): ProgramFault => ({ found: message, cure: hint });
