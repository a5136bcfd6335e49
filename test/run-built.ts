import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';

/**
 * Bundle a module as the commands are bundled, run it in a Node of its own and answer what it prints as JSON.
 * The test runner wraps every import in a getter, which makes the simulator three times slower than what users run.
 */
export function runBuilt(entry: string, ...args: readonly string[]): unknown {
  const folder = mkdtempSync(join(tmpdir(), 'latelight-built-'));
  try {
    const vite = 'node_modules/vite/bin/vite.js';
    const env = { ...process.env, NODE_ENV: 'production', LATELIGHT_ENTRY: entry };
    execFileSync('node', [vite, 'build', '--mode', 'cli', '--outDir', folder, '--logLevel', 'warn'], {
      env,
      stdio: 'pipe',
    });
    const output = execFileSync('node', [join(folder, `${basename(entry, '.ts')}.js`), ...args], {
      encoding: 'utf8',
      maxBuffer: 1e9,
    });
    return JSON.parse(output);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
