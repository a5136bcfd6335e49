// Writes the loop of the fast processor anew. Run it after a change of the opcode table or of the loop's texts:
//   node test/console/write-fast-cpu-loop.mjs
import { writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { runnerImport } from 'vite';

const folder = resolve(import.meta.dirname, '../../src/console/cpu/fast');
const { module } = await runnerImport(join(folder, 'loop-text.ts'), { configFile: false, logLevel: 'error' });
writeFileSync(join(folder, module.LOOP_FILE), module.loopText());
