import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { describeWith } from '../needs.ts';
import { openBuiltPage } from './built-page.ts';

const FOLDER = 'homebrew-demo/first-light';
const file = (name: string, as = name) => ({ name: as, mimeType: '', buffer: readFileSync(`${FOLDER}/${name}`) });

describeWith('chromium', 'the built page after a crash', () => {
  test('what was chosen and typed is there in a new tab, an own image with it; the caution is shown again', async () => {
    const { page, close } = await openBuiltPage();
    try {
      const address = page.url();
      await page.getByRole('button', { name: 'An image of your own' }).click();
      const files = page.locator('own-program input[type=file]');
      await files.setInputFiles([
        file('first-light.bin', 'first-light.nes'),
        file('first-light.lbl'),
        file('tube.json'),
      ]);
      await page.getByText('✓ own image: first-light.nes stands on the bench.').waitFor();
      await page.getByRole('button', { name: /^console/ }).click();
      await page.getByRole('button', { name: 'Add a pure delay behind it' }).click();
      await page.getByLabel(/^delay, 0 to 500 ms/).fill('50');
      await page.getByLabel(/^delay, 0 to 500 ms/).fill('50 or so');
      await page.getByLabel('scenario, JSON').pressSequentially('typed ');
      await page.waitForTimeout(1000);
      const crashed = page.waitForEvent('crash');
      await page.goto('chrome://crash').catch(() => {});
      await crashed;

      const again = await page.context().newPage();
      await again.goto(address);
      await again.getByRole('button', { name: /I have read this/ }).waitFor();
      await expect.poll(() => again.getByLabel('strategy').inputValue()).toBe('own:first-light.nes');
      expect(await again.getByLabel('scenario, JSON').inputValue()).toContain('typed ');
      await again.getByRole('button', { name: /^pure delay/ }).click();
      expect(await again.getByLabel(/^delay, 0 to 500 ms/).inputValue()).toBe('50 or so');
      await again.getByText('It stays 50 ms until then.').waitFor();
      await again.getByRole('button', { name: 'Undo' }).click();
      await again.getByRole('button', { name: 'Shoot once' }).click();
      await again
        .getByText('own image: first-light.nes, picture tube, 32 ms late, wide-band sensor with baseline')
        .waitFor();
    } finally {
      await close();
    }
  });
});
