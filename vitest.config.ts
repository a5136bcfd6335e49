import { playwright } from '@vitest/browser-playwright';
import { defineConfig } from 'vitest/config';

const browserTests = ['src/**/*.browser.test.ts', 'test/**/*.browser.test.ts'];

export default defineConfig({
  test: {
    reporters: ['default', './test/closing-line-reporter.ts'],
    projects: [
      {
        test: {
          name: 'node',
          include: ['src/**/*.test.ts', 'test/**/*.test.ts'],
          exclude: [...browserTests, 'node_modules'],
          environment: 'node',
          testTimeout: 300_000,
        },
      },
      {
        // Named here so that a cold run does not discover them one by one and reload the page under a test.
        optimizeDeps: { include: ['axe-core', 'comlink', 'lit', 'valibot'] },
        test: {
          name: 'browser',
          include: browserTests,
          testTimeout: 300_000,
          // What is waited for comes late where two cores play and draw at once.
          expect: { poll: { timeout: 20_000 } },
          browser: {
            enabled: true,
            headless: true,
            screenshotFailures: false,
            instances: [{ browser: 'chromium' }],
            provider: playwright({
              launchOptions: { executablePath: process.env['CHROMIUM'] ?? '/usr/bin/chromium', args: ['--no-sandbox'] },
            }),
          },
        },
      },
    ],
  },
});
