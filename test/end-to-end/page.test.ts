import { mkdirSync } from 'node:fs';
import { chromium } from 'playwright';
import { preview } from 'vite';
import { expect, test } from 'vitest';
import { describeWith, findTool } from '../needs.ts';

describeWith('chromium', 'the built page under a sub-path', () => {
  test('it shoots in its worker, breaks no content policy and asks no other host', async () => {
    const server = await preview({
      configFile: false,
      appType: 'mpa',
      base: '/some/folder/',
      build: { outDir: 'dist' },
      preview: { port: 0 },
      logLevel: 'silent',
    });
    const browser = await chromium.launch({ executablePath: findTool('chromium')!, args: ['--no-sandbox'] });
    try {
      const page = await browser.newPage({ viewport: { width: 900, height: 700 } });
      const problems: string[] = [];
      const origin = new URL(server.resolvedUrls!.local[0]!).origin;
      page.on('console', (message) => {
        if (message.type() === 'error' || message.type() === 'warning') problems.push(message.text());
      });
      page.on('pageerror', (error) => problems.push(error.message));
      page.on('response', (response) => {
        if (response.status() >= 400) problems.push(`${response.status()} ${response.url()}`);
      });
      page.on('request', (request) => {
        if (!request.url().startsWith(origin) && !/^(data|blob):/.test(request.url()))
          problems.push(`asks ${request.url()}`);
      });
      await page.goto(server.resolvedUrls!.local[0]!);
      await page.getByRole('button', { name: 'Pull the trigger' }).click();
      await page.getByText('✕ miss').waitFor({ timeout: 30_000 });
      expect(await page.getByRole('status').textContent()).toMatch(/too early/);
      mkdirSync('coverage', { recursive: true });
      await page.screenshot({ path: 'coverage/page.png' });
      expect(problems).toEqual([]);
    } finally {
      await browser.close();
      await server.close();
    }
  });
});
