import { createHash } from 'node:crypto';
import { basename } from 'node:path';
import { defineConfig, type Plugin } from 'vite';

/** A test may have one module built as the commands are (test/run-built.ts). */
const entry = process.env['LATELIGHT_ENTRY'];
const commands =
  entry === undefined
    ? { cli: 'src/cli/cli.ts', 'sweep-worker': 'src/cli/sweep-worker.ts', bench: 'test/bench/bench.ts' }
    : { [basename(entry, '.ts')]: entry };

const SERVICE_WORKER = 'service-worker';

/** Writes into the service worker what the page is made of (src/ui/offline/service-worker.ts). */
const offlinePage = (): Plugin => ({
  name: 'latelight-offline-page',
  generateBundle: {
    order: 'post',
    handler(_, bundle) {
      const worker = bundle[`${SERVICE_WORKER}.js`];
      if (worker?.type !== 'chunk') return this.error('there is no service worker to write the list of files into');
      const files = Object.keys(bundle).filter((name) => name !== worker.fileName && !/\.(map|html)$/.test(name));
      const hash = createHash('sha256').update(worker.code);
      for (const name of Object.keys(bundle).sort()) {
        const file = bundle[name]!;
        if (!name.endsWith('.map')) hash.update(name).update(file.type === 'chunk' ? file.code : file.source);
      }
      worker.code = worker.code
        .replaceAll('BUILT_FILES', () => JSON.stringify(files))
        .replaceAll('BUILT_HASH', () => JSON.stringify(hash.digest('hex').slice(0, 16)));
    },
  },
  /** A built page that the browser has kept under this address would be shown in place of the one that is worked on. */
  configureServer({ middlewares }) {
    middlewares.use((request, response, next) => {
      if (request.url?.startsWith(`/${SERVICE_WORKER}.js`) !== true) return next();
      response.setHeader('Content-Type', 'text/javascript');
      response.end(
        "self.addEventListener('install', () => self.skipWaiting());" +
          "self.addEventListener('activate', () => self.registration.unregister());",
      );
    });
  },
});

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
        plugins: [offlinePage()],
        build: {
          target: 'es2022',
          sourcemap: true,
          modulePreload: { polyfill: false },
          assetsInlineLimit: 0,
          rolldownOptions: {
            input: { index: 'index.html', [SERVICE_WORKER]: 'src/ui/offline/service-worker.ts' },
            output: {
              // The browser asks for the service worker again by its name.
              entryFileNames: ({ name }) => (name === SERVICE_WORKER ? '[name].js' : 'assets/[name]-[hash].js'),
            },
          },
        },
        worker: { format: 'es' },
      },
);
