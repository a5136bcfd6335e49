import { readFileSync, writeFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { LatelightError } from '../errors/latelight-error.ts';
import { type PreparedScenario, prepareScenario } from '../shot/prepared-scenario.ts';
import { parseScenario } from '../shot/scenario.ts';

/** Read a scenario and the files that it names; their paths are taken from the folder of the scenario. */
export function openScenario(path: string): PreparedScenario {
  const scenario = parseScenario(readFile(path).toString('utf8'));
  const folder = dirname(path);
  const image = readFile(resolve(folder, scenario.image));
  if (scenario.labels === undefined) return prepareScenario(scenario, { image });
  return prepareScenario(scenario, { image, labels: readFile(resolve(folder, scenario.labels)).toString('utf8') });
}

/** Error: FILE_UNREADABLE. */
export function readFile(path: string): Buffer {
  try {
    return readFileSync(path);
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    const found = code === 'ENOENT' ? 'there is no such file' : code === 'EISDIR' ? 'it is a folder' : message;
    throw new LatelightError('FILE_UNREADABLE', { path, found });
  }
}

/** Error: FILE_UNWRITABLE. */
export function writeFile(path: string, content: string | Uint8Array): void {
  try {
    writeFileSync(path, content);
  } catch (error) {
    throw new LatelightError('FILE_UNWRITABLE', { path, found: (error as Error).message });
  }
}
