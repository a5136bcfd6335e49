import { basename } from 'node:path';
import { defineConfig } from 'vite';

/** A test may have one module built as the commands are (test/run-built.ts). */
const entry = process.env['LATELIGHT_ENTRY'];
const commands =
  entry === undefined
    ? { cli: 'src/cli/cli.ts', 'sweep-worker': 'src/cli/sweep-worker.ts', bench: 'test/bench/bench.ts' }
    : { [basename(entry, '.ts')]: entry };

/** `vite build` makes the page in dist; `vite build --mode cli` makes the commands in dist/cli. */
export default defineConfig(({ mode }) =>
  mode === 'cli'
    ? {
        publicDir: false,
        ssr: { noExternal: true },
        build: {
          ssr: true,
          target: 'node20',
          outDir: 'dist/cli',
          sourcemap: true,
          rolldownOptions: {
            input: commands,
            output: { entryFileNames: '[name].js', chunkFileNames: 'chunks/[name].js' },
          },
        },
      }
    : {
        base: './',
        appType: 'mpa',
        build: { target: 'es2022', sourcemap: true, modulePreload: { polyfill: false }, assetsInlineLimit: 0 },
        worker: { format: 'es' },
      },
);
