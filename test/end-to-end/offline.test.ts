import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import { describeWith } from '../needs.ts';
import { openBuiltPage } from './built-page.ts';

const isKept = (page: Page) => page.evaluate(() => navigator.serviceWorker.ready.then(() => true));

async function shootOnce(page: Page, answer: RegExp): Promise<void> {
  await page.getByRole('button', { name: /^Shoot once/ }).click();
  await expect.poll(() => page.locator('.verdict').textContent(), { timeout: 60_000 }).toMatch(answer);
}

describeWith('chromium', 'the built page without a connection', () => {
  test('after the first visit it opens from a folder of any name and plays; it never asks anybody else', async () => {
    const { page, problems, stopServing, close } = await openBuiltPage();
    try {
      const { origin, pathname } = new URL(page.url());
      expect(pathname).toBe('/some/folder/');
      await isKept(page);
      await stopServing();
      await expect(fetch(origin)).rejects.toThrow();
      await page.reload();
      await shootOnce(page, /✓ hit/);
      await page.getByLabel('strategy').selectOption('calibrated');
      await shootOnce(page, /✓ hit/);
      await page.getByRole('button', { name: /I have read this/ }).click();
      await page.getByRole('button', { name: 'Pause' }).waitFor();
      await expect
        .poll(async () => Number(await page.locator('latelight-play').getAttribute('data-frames')), { timeout: 60_000 })
        .toBeGreaterThan(60);
      await page.getByRole('link', { name: 'Lag map' }).click();
      await page.getByText(/cells on the map \(/).waitFor();
      await page.goto(`${origin}/some/folder/index.html?from=a-bookmark`);
      await page.getByRole('heading', { name: 'Latelight' }).waitFor();
      expect(problems).toEqual([]);
    } finally {
      await close();
    }
  });

  test('a new version is there at the next visit, and only the files of the one before it are kept beside it', async () => {
    const { page, setVersion, close } = await openVersions();
    try {
      await isKept(page);
      for (const [next, kept] of [
        ['2', ['1', '2']],
        ['3', ['2', '3']],
      ] as const) {
        const before = await page.title();
        setVersion(next);
        await page.reload();
        expect(await page.title()).toBe(before); // as it was kept; the new one is fetched meanwhile
        await expect.poll(() => keptVersions(page), { timeout: 30_000 }).toEqual(kept);
        await page.reload();
        expect(await page.title()).toBe(next);
      }
    } finally {
      await close();
    }
  });

  test('a new version of which a file is missing is not taken', async () => {
    const { page, folder, setVersion, stopServing, close } = await openVersions();
    try {
      await isKept(page);
      setVersion('2');
      const worker = join(folder, 'service-worker.js');
      writeFileSync(worker, readFileSync(worker, 'utf8').replace('"assets/', '"assets/missing.js","assets/'));
      expect(await stateOfUpdate(page)).toBe('redundant');
      expect(await keptVersions(page)).toEqual(['1']);
      await stopServing();
      await page.reload();
      expect(await page.title()).toBe('1');
      await shootOnce(page, /✓ hit/);
    } finally {
      await close();
    }
  });
});

/** Versions that are kept, oldest first; none while one is being fetched. */
const keptVersions = (page: Page) =>
  page.evaluate(async () => {
    const { installing, waiting, active } = await navigator.serviceWorker.ready;
    const isSettled = installing === null && waiting === null && active?.state === 'activated';
    return isSettled ? (await caches.keys()).map((name) => name.slice(-1)) : [];
  });

/** What becomes of the version that is served now: it is `activated`, or `redundant` where it was not taken. */
const stateOfUpdate = (page: Page) =>
  page.evaluate(async () => {
    const registration = await navigator.serviceWorker.ready;
    const found = new Promise<ServiceWorkerState>((done) => {
      registration.addEventListener('updatefound', () => {
        const worker = registration.installing!;
        worker.addEventListener('statechange', () => {
          if (worker.state === 'activated' || worker.state === 'redundant') done(worker.state);
        });
      });
    });
    await registration.update();
    return await found;
  });

/** A copy of the built page whose version can be changed; title and hash say it. */
async function openVersions() {
  const folder = mkdtempSync(join(tmpdir(), 'latelight-offline-'));
  cpSync('dist', folder, { recursive: true });
  const setVersion = (version: string): void => {
    change(join(folder, 'index.html'), /<title>[^<]*/, `<title>${version}`);
    change(join(folder, 'service-worker.js'), /(["'`])[0-9a-f]{16}\1/, `"${version.repeat(16)}"`);
  };
  setVersion('1');
  const built = await openBuiltPage({ folder });
  const close = async (): Promise<void> => {
    await built.close();
    rmSync(folder, { recursive: true, force: true });
  };
  return { ...built, folder, setVersion, close };
}

const change = (path: string, from: RegExp, to: string): void =>
  writeFileSync(path, readFileSync(path, 'utf8').replace(from, to));
