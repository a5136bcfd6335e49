import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import { describeWith } from '../needs.ts';
import { openBuiltPage } from './built-page.ts';

/** What is pressed under a finger is so high at least, CSS pixels. Source: WCAG 2.2, 2.5.5 target size (enhanced). */
const LEAST_PX = 44;
const SCREENS = ['bench', 'lag-map', 'flash-check'] as const;

/** What is done on a screen until everything is there that it can show. */
const FILLED: Readonly<Record<(typeof SCREENS)[number], (page: Page) => Promise<void>>> = {
  bench: async (page) => {
    await page.getByRole('button', { name: /I have read this/ }).tap();
    await page.getByRole('button', { name: /^Shoot once/ }).tap();
    await page.locator('time-ruler').waitFor();
    await page.getByRole('button', { name: /^picture tube/ }).tap();
    await page.getByText('Where these numbers come from').waitFor();
  },
  'lag-map': async (page) => {
    await page.getByRole('button', { name: 'Run it' }).waitFor();
    await page.getByText('The map as a table').waitFor();
  },
  'flash-check': async (page) => {
    await page.getByRole('button', { name: 'Check both' }).tap();
    await page.getByText('Every rule').first().waitFor();
  },
};

/** Buttons, lists and openings that are to be seen and lower than that; running text's own links are left out, as there. */
const lowOnes = (page: Page): Promise<string[]> =>
  page.evaluate((least) => {
    const found: string[] = [];
    const look = (root: Document | ShadowRoot): void => {
      for (const element of root.querySelectorAll('*')) {
        if (element.shadowRoot !== null) look(element.shadowRoot);
        if (!element.matches('button, select, summary, [role="tab"]')) continue;
        const { height } = element.getBoundingClientRect();
        if (height > 0 && height < least - 0.5)
          found.push(`${element.tagName.toLowerCase()} "${element.textContent?.trim().slice(0, 30)}": ${height}`);
      }
    };
    look(document);
    return found;
  }, LEAST_PX);

const widerThanWindow = (page: Page): Promise<number> =>
  page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

describeWith('chromium', 'the built page under a finger, 390 pixels wide', () => {
  test.each(SCREENS)('%s: what is pressed is 44 pixels high, and nothing is wider than the window', async (screen) => {
    const built = await openBuiltPage({ width: 390, height: 844, isTouched: true });
    try {
      const { page, problems } = built;
      await page.goto(`${page.url().replace(/#.*/, '')}#/${screen}`);
      await FILLED[screen](page);
      expect(await lowOnes(page)).toEqual([]);
      expect(await widerThanWindow(page)).toBe(0);
      expect(problems).toEqual([]);
    } finally {
      await built.close();
    }
  });

  test('a shot from below the pictures brings its verdict into sight', async () => {
    const built = await openBuiltPage({ width: 390, height: 844, isTouched: true });
    try {
      const { page } = built;
      const verdict = page.locator('latelight-play .answer .verdict');
      const shoot = page.getByRole('button', { name: /^Shoot once/ });
      await shoot.scrollIntoViewIfNeeded();
      expect(await page.evaluate(() => scrollY)).toBeGreaterThan(844);
      await shoot.tap();
      await verdict.waitFor();
      await expect.poll(async () => (await verdict.boundingBox())?.y ?? -1).toBeGreaterThanOrEqual(0);
      expect((await verdict.boundingBox())!.y).toBeLessThan(844);
    } finally {
      await built.close();
    }
  });
});
