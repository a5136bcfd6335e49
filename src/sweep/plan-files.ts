import { LatelightError } from '../errors/latelight-error.ts';
import type { PlanFiles } from './plan.ts';

/** Files by the path under which they were read; plain data, so that a worker can be given them. */
export type CollectedFiles = Record<string, string | Uint8Array>;

/** Files that remember in `into` what was read of them. */
export function collectingFiles(files: PlanFiles, into: CollectedFiles): PlanFiles {
  return {
    text: (path) => {
      const text = files.text(path);
      into[path] = text;
      return text;
    },
    bytes: (path) => {
      const bytes = files.bytes(path);
      into[path] = bytes;
      return bytes;
    },
  };
}

/** Files that are all there already. Error: FILE_UNREADABLE for any other. */
export function collectedFiles(files: Readonly<CollectedFiles>): PlanFiles {
  const find = <Kind extends string | Uint8Array>(path: string, isKind: (file: unknown) => file is Kind): Kind => {
    const file = files[path];
    if (isKind(file)) return file;
    throw new LatelightError('FILE_UNREADABLE', { path, found: 'it was not given' });
  };
  return {
    text: (path) => find(path, (file): file is string => typeof file === 'string'),
    bytes: (path) => find(path, (file): file is Uint8Array => file instanceof Uint8Array),
  };
}
