import { existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { describe, it } from 'vitest';

/** Programs outside the repository that some tests compare with. */
export type Tool = 'ca65' | 'ld65' | 'sim65' | 'chromium' | 'ffmpeg';

/** The tool's path: the variable CHROMIUM for the browser, the search path otherwise; undefined when it is not there. */
export function findTool(tool: Tool): string | undefined {
  const named = tool === 'chromium' ? process.env['CHROMIUM'] : undefined;
  const folders = (process.env['PATH'] ?? '').split(delimiter);
  return [named, ...folders.map((folder) => join(folder, tool))].find((path) => path && existsSync(path));
}

/**
 * `describe` for tests that need `tools`. Without them they are skipped, with the reason in the title; where CI=true they
 * fail instead, so that a missing tool cannot hide.
 */
export function describeWith(tools: Tool | readonly Tool[], title: string, body: () => void): void {
  const missing = [tools].flat().filter((tool) => findTool(tool) === undefined);
  if (missing.length === 0) {
    describe(title, body);
    return;
  }
  const names = missing.join(', ');
  if (process.env['CI'] !== 'true') {
    describe.skip(`${title} (needs ${names}, not found on the search path)`, body);
    return;
  }
  describe(title, () => {
    it(`needs ${names}`, () => {
      throw new Error(`${names} required where CI=true, but not found on the search path`);
    });
  });
}
