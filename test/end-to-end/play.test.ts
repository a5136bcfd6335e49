import { mkdirSync } from 'node:fs';
import type { Page } from 'playwright';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { describeWith } from '../needs.ts';
import { type BuiltPage, openBuiltPage } from './built-page.ts';

/** Middles of the practice street's targets, dots and scanlines. */
const LAMP = { x: 52, y: 36 };
/** Not the lamp that the page begins with: its aim stands in the address. */
const MIDDLE = { x: 132, y: 120 };
const MARK = { x: 128, y: 120 };
const BESIDE = { x: 90, y: 70 };

describeWith('chromium', 'the built page: Lamplighter is played', () => {
  let built: BuiltPage;

  beforeEach(async () => {
    built = await openBuiltPage();
  });

  afterEach(async () => {
    await built.close();
  });

  test('a mouse on its way to a button leaves the wand on the lamp', async () => {
    const { page } = built;
    const aim = () => new URLSearchParams(page.url().replace(/^[^#]*#[^?]*\?/, '')).get('aim');
    await page.getByRole('button', { name: /I have read this/ }).click();
    await practise(page);
    const box = (await page.locator('bench-picture#shown').boundingBox())!;
    const button = (await page.getByRole('button', { name: /^Shoot once/ }).boundingBox())!;
    const lamp = [box.x + (box.width * MIDDLE.x) / 256, box.y + (box.height * MIDDLE.y) / 240] as const;
    await page.mouse.move(...lamp);
    await expect.poll(aim).toMatch(/^13[12](\.\d+)?,1(19|20)(\.\d+)?$/);
    const stood = aim();
    await page.waitForTimeout(300);
    await page.mouse.move(button.x + 10, button.y + 10, { steps: 40 });
    await expect.poll(aim).toBe(stood);
    await page.mouse.down();
    await page.mouse.up();
    await expectAnswer(page, /^\s*✓ hit/);
    expect(aim()).toBe(stood);
  });

  test('start, aim, hit on the tube, miss at 50 ms, calibrate, hit', async () => {
    const { page, problems } = built;
    mkdirSync('coverage', { recursive: true });
    await page.screenshot({ path: 'coverage/play-caution.png' });
    await page.getByRole('button', { name: /I have read this/ }).click();
    await practise(page);
    await shootAt(page, LAMP);
    await expectAnswer(page, /^\s*✓ hit/);
    await page.screenshot({ path: 'coverage/play-hit.png' });

    await page.getByRole('button', { name: /^picture tube/ }).click();
    await page.getByLabel('model').selectOption('lcd');
    expect((await page.locator('.answer').textContent())?.trim()).toBe(''); // the hit was on the tube
    expect(await page.locator('.shots li').textContent()).toMatch(
      /hit.*same frame, tested dark, picture tube, wide-band sensor with baseline/s,
    );
    await page.getByRole('button', { name: /^console/ }).click();
    await page.getByRole('button', { name: 'Add a pure delay behind it' }).click();
    await page.getByLabel(/^delay, 0 to 500 ms/).fill('50');
    await expect.poll(() => decodeURIComponent(page.url())).toContain('{"kind":"pure-delay","delayMs":50}');
    await frames(page, 60);
    await shootAt(page, LAMP);
    await expectAnswer(page, /^\s*✕ miss[\s\S]*crossed the threshold 5\d\.\d ms after/);
    await page.screenshot({ path: 'coverage/play-miss.png', fullPage: true });
    await page.getByRole('button', { name: /^Shoot once/ }).click();
    await expectAnswer(page, /^\s*✕ miss[\s\S]*Proved/);
    await page.screenshot({ path: 'coverage/play-cause.png', fullPage: true });
    await page.getByRole('button', { name: 'Go on' }).click();

    await page.getByLabel('strategy').selectOption('calibrated');
    await practise(page);
    await shootAt(page, MARK);
    await frames(page, 280);
    await page.screenshot({ path: 'coverage/play-calibrated.png' });
    await shootAt(page, LAMP);
    await expectAnswer(page, /^\s*✓ hit/);
    await frames(page, 90);
    await shootAt(page, BESIDE);
    await expectAnswer(page, /^\s*✓ rightly none/);
    expect(await page.locator('.shots li').count()).toBeGreaterThanOrEqual(3);
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByRole('button', { name: 'Undo' }).click();
    expect(decodeURIComponent(page.url())).not.toContain('pure-delay');
    expect(problems).toEqual([]);
  });

  test('nothing moves before the caution is read, Escape and a lost focus pause', async () => {
    const { page } = built;
    expect(await page.locator('#shown canvas').count()).toBe(0);
    await page.getByRole('button', { name: /I have read this/ }).click();
    await page.getByRole('button', { name: 'Pause' }).waitFor();
    await frames(page, 5);
    await page.keyboard.press('Escape');
    await page.getByText('paused').waitFor();
    // Frames that were asked for before are drawn when they come.
    await page.waitForTimeout(300);
    const still = await page.locator('#shown canvas').screenshot();
    await page.waitForTimeout(500);
    expect((await page.locator('#shown canvas').screenshot()).equals(still)).toBe(true);
    await page.getByRole('button', { name: 'Go on' }).click();
    await page.getByRole('button', { name: 'Pause' }).waitFor();
    await page.evaluate(() => window.dispatchEvent(new Event('blur')));
    await page.getByText('paused').waitFor();
  });
});

describeWith('chromium', 'the built page in a narrow window', () => {
  test('nothing sticks out at 320 pixels, and a key that is down for no time is heard', async () => {
    const { page, close } = await openBuiltPage({ width: 320, height: 700, colorScheme: 'light' });
    try {
      await page.getByRole('button', { name: /I have read this/ }).click();
      await frames(page, 90);
      await page.getByRole('application').focus();
      await page.keyboard.press('q');
      await frames(page, 60);
      await page.locator('#shown').scrollIntoViewIfNeeded();
      await shootAt(page, LAMP);
      await expectAnswer(page, /^\s*✓ hit/);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(320);
      await page.screenshot({ path: 'coverage/play-narrow.png', fullPage: true });
    } finally {
      await close();
    }
  });
});

describeWith('chromium', 'the built page: the other screens', () => {
  test('the flash check tells of the game and of what this page has shown', async () => {
    const { page, problems, close } = await openBuiltPage();
    try {
      await page.getByRole('button', { name: /I have read this/ }).click();
      await frames(page, 120);
      await page.keyboard.press('Escape');
      await page.getByRole('link', { name: 'Flash check' }).click();
      await page.getByLabel(/^size it is seen at/).fill('none');
      await page.getByText('The size is "none", expected a number from 0.5 to 20.').waitFor();
      await page.getByLabel(/^size it is seen at/).fill('3');
      await page.getByRole('button', { name: 'Check both' }).click();
      await page.getByRole('heading', { name: 'The game' }).waitFor({ timeout: 60_000 });
      expect(await page.getByText('✓ Below the published limits').count()).toBe(2);
      await page.screenshot({ path: 'coverage/flash-check.png', fullPage: true });
      await page.getByRole('link', { name: 'Bench' }).click();
      await page.getByRole('button', { name: 'Go on' }).waitFor();
      expect(problems).toEqual([]);
    } finally {
      await close();
    }
  });

  test('a link that is not valid is told in words, and the bench stands', async () => {
    const { page, close } = await openBuiltPage();
    try {
      await page.goto(`${page.url()}#/bench?v=1&strategy=none&aim=1,2&light={}`);
      await page.getByText(/This link cannot be opened: strategy: found "none"/).waitFor();
      await page.getByRole('button', { name: /I have read this/ }).waitFor();
    } finally {
      await close();
    }
  });
});

/** Wait until the console has run so many frames more: a loaded machine plays slower than the clock. */
async function frames(page: Page, count: number): Promise<void> {
  const run = async () => Number((await page.locator('latelight-play').getAttribute('data-frames')) ?? 0);
  const end = (await run()) + count;
  await expect.poll(run, { timeout: 120_000, interval: 50 }).toBeGreaterThanOrEqual(end);
}

/** On the title: Select leads to the practice street, where three targets stand still. */
async function practise(page: Page): Promise<void> {
  await frames(page, 90);
  await page.getByRole('application').focus();
  await page.keyboard.down('q');
  await frames(page, 8);
  await page.keyboard.up('q');
  await frames(page, 45);
}

async function shootAt(page: Page, { x, y }: { readonly x: number; readonly y: number }): Promise<void> {
  await page.locator('#shown').scrollIntoViewIfNeeded();
  const box = (await page.locator('#shown').boundingBox())!;
  await page.mouse.move(box.x + (box.width * x) / 256, box.y + (box.height * y) / 240);
  await frames(page, 20);
  await page.mouse.down();
  await page.mouse.up();
}

async function expectAnswer(page: Page, answer: RegExp): Promise<void> {
  await expect.poll(() => page.locator('.answer').textContent(), { timeout: 60_000 }).toMatch(answer);
}
