import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import { describeWith } from '../needs.ts';
import { openBuiltPage } from './built-page.ts';

/** What is pressed under a finger is so high at least, CSS pixels. Source: WCAG 2.2, 2.5.5 target size (enhanced). */
const LEAST_PX = 44;
const SCREENS = ['bench', 'lag-map', 'flash-check'] as const;

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
      const begin = page.getByRole('button', { name: /I have read this/ });
      if (screen === 'bench') {
        await begin.tap();
        await page.getByRole('button', { name: /^Shoot once/ }).tap();
        await page.locator('time-ruler').waitFor();
      } else {
        await page.goto(`${page.url().replace(/#.*/, '')}#/${screen}`);
        await page.getByRole('heading', { level: 1 }).first().waitFor();
        await page.waitForTimeout(500);
      }
      expect(await lowOnes(page)).toEqual([]);
      expect(await widerThanWindow(page)).toBe(0);
      expect(problems).toEqual([]);
    } finally {
      await built.close();
    }
  });
});
