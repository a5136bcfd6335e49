import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { SourceFiles } from '../../src/program/assembler/assembler.ts';

/** Files on the disk, named as they are seen from a folder. */
export function diskFiles(folder: string): SourceFiles {
  const read = (path: string): Buffer | undefined => {
    try {
      return readFileSync(join(folder, path));
    } catch {
      return undefined;
    }
  };
  return { readText: (path) => read(path)?.toString('utf8'), readBytes: read };
}
