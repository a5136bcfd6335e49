import { readFileSync, writeFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { LatelightError } from '../errors/latelight-error.ts';
import { type PreparedScenario, prepareScenario } from '../shot/prepared-scenario.ts';
import { parseScenario } from '../shot/scenario.ts';
import { fileKey } from './file-key.ts';

/** Read a scenario and the files that it names; their paths are taken from the folder of the scenario. */
export function openScenario(path: string): PreparedScenario {
  const scenario = parseScenario(readFile(path).toString('utf8'));
  const folder = dirname(path);
  const image = readFile(resolve(folder, scenario.image));
  if (scenario.labels === undefined) return prepareScenario(scenario, { image });
  return prepareScenario(scenario, { image, labels: readFile(resolve(folder, scenario.labels)).toString('utf8') });
}

/** What the command has read, by `fileKey`. */
const filesRead = new Set<string>();

/** Error: FILE_UNREADABLE. */
export function readFile(path: string): Buffer {
  try {
    const content = readFileSync(path);
    filesRead.add(fileKey(path));
    return content;
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    const found = code === 'ENOENT' ? 'there is no such file' : code === 'EISDIR' ? 'it is a folder' : message;
    throw new LatelightError('FILE_UNREADABLE', { path, found });
  }
}

/** What was read is not written over. Error: USAGE. */
export function checkNotRead(path: string | undefined): void {
  if (path === undefined || !filesRead.has(fileKey(path))) return;
  throw new LatelightError('USAGE', { found: `${path} was read`, expected: 'another name for what is written' });
}

/** Errors: USAGE for a file that was read, FILE_UNWRITABLE. */
export function writeFile(path: string, content: string | Uint8Array): void {
  checkNotRead(path);
  try {
    writeFileSync(path, content);
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    const found = code === 'ENOENT' ? 'there is no such folder' : code === 'EISDIR' ? 'it is a folder' : message;
    throw new LatelightError('FILE_UNWRITABLE', { path, found });
  }
}
