import { readlinkSync, realpathSync, statSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';

/** The same for every path to one file, links of both kinds included; the file need not exist. */
export function fileKey(path: string): string {
  const found = statSync(path, { throwIfNoEntry: false, bigint: true });
  if (found !== undefined) return `${found.dev}:${found.ino}`;
  const folder = dirname(resolve(path));
  const target = linkTarget(path);
  if (target !== undefined) return fileKey(resolve(folder, target));
  return join(
    statSync(folder, { throwIfNoEntry: false }) === undefined ? folder : realpathSync(folder),
    basename(path),
  );
}

/** Where a link points to whose file does not exist. */
function linkTarget(path: string): string | undefined {
  try {
    return readlinkSync(path);
  } catch {
    return undefined;
  }
}
