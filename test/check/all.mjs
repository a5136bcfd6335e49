// `npm run check`: types, core types, lint and format, room order and cycles, dead exports, exact core.
// Runs every step even after a failure, so that one call shows all that is wrong.
import { spawnSync } from 'node:child_process';

const steps = [
  ['types', 'tsc', '-p', '.'],
  ['core types', 'tsc', '-p', 'src/tsconfig.core.json'],
  ['lint and format', 'biome', 'ci', '--colors=off', '--error-on-warnings', '.'],
  ['room order', 'depcruise', '--config', 'test/check/dependency-rules.cjs', 'src'],
  ['dead exports', 'knip'],
  ['exact core', 'node', 'test/check/exact-core.mjs'],
];

const only = process.argv.slice(2).filter((name) => name !== '');
let failed = 0;
for (const [name, command, ...args] of steps) {
  if (only.length > 0 && !only.includes(name)) continue;
  const started = Date.now();
  const path = `node_modules/.bin:${process.env.PATH}`;
  const run = spawnSync(command, args, { encoding: 'utf8', env: { ...process.env, PATH: path } });
  const output = `${run.stdout ?? ''}${run.stderr ?? ''}${run.error ? String(run.error) : ''}`;
  // A rule check that read no module has checked nothing, whatever its exit status says.
  const readNothing = name === 'room order' && /\(0 modules/.test(output);
  const isGood = run.status === 0 && !readNothing;
  if (!isGood) failed++;
  console.log(`${isGood ? 'ok  ' : 'FAIL'} ${name} (${((Date.now() - started) / 1000).toFixed(1)} s)`);
  if (!isGood) console.log(output.trimEnd());
}
process.exitCode = failed === 0 ? 0 : 1;
