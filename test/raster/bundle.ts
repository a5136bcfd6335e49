import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'vite';

/**
 * A module of the tests with all that it imports as one file, for loops of 10^8 rounds: the test runner's own modules
 * reach every import through a record, which makes such loops five times slower.
 */
export async function bundled<Module>(entry: string): Promise<Module> {
  const folder = mkdtempSync(join(tmpdir(), 'latelight-bundle-'));
  try {
    await build({
      configFile: false,
      logLevel: 'error',
      build: {
        ssr: entry,
        outDir: folder,
        emptyOutDir: false,
        minify: false,
        rollupOptions: { output: { entryFileNames: 'bundle.mjs', codeSplitting: false } },
      },
    });
    return (await import(/* @vite-ignore */ pathToFileURL(join(folder, 'bundle.mjs')).href)) as Module;
  } finally {
    rmSync(folder, { recursive: true });
  }
}
