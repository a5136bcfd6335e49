// Photographs every screen of the built page (dist) at three widths in both themes into this folder: `npm run pictures`.
// Pictures are looked at by people; no test compares them.
import { writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright';
import { preview } from 'vite';

const FOLDER = dirname(fileURLToPath(import.meta.url));
const WIDTHS = [320, 800, 1400];
const THEMES = ['dark', 'light'];
const MOST_BYTES = 100_000;
const QUALITIES = [80, 65, 50, 35, 20];

const button = (page, name) => page.getByRole('button', { name });

/** Put a pure delay of so many ms behind the console. */
async function typeDelay(page, text) {
  await button(page, /^console/).click();
  await button(page, 'Add a pure delay behind it').click();
  await page.getByLabel(/^delay, 0 to 500 ms/).fill(text);
}

async function shootOnce(page) {
  await button(page, /^Shoot once/).click();
  await page.locator('time-ruler').first().waitFor();
}

/** Every screen, and what to do on it before the picture is taken. */
const SCENES = {
  'bench-empty': ['bench', async () => {}],
  'bench-running': [
    'bench',
    async (page) => {
      await button(page, /I have read this/).click();
      await button(page, 'Pause').waitFor();
      await page.waitForTimeout(1500);
      await page.keyboard.press('q');
      await page.waitForTimeout(2500);
    },
  ],
  'bench-shot': [
    'bench',
    async (page) => {
      await typeDelay(page, '50');
      await shootOnce(page);
      await page.getByText(/^Proved/).waitFor();
    },
  ],
  'bench-error': ['bench', async (page) => typeDelay(page, '501')],
  'lag-map-empty': ['lag-map', async () => {}],
  'lag-map-running': [
    'lag-map',
    async (page) => {
      await button(page, /^Run/).click();
      await page.waitForTimeout(2500);
    },
  ],
  'flash-check-empty': ['flash-check', async () => {}],
  'flash-check-running': [
    'flash-check',
    async (page) => {
      await button(page, 'Check both').click();
      await page.waitForTimeout(300);
    },
  ],
  'flash-check-error': ['flash-check', async (page) => page.getByLabel(/^size it is seen at/).fill('0')],
};

/** The best picture that is small enough. */
async function photograph(page, path) {
  for (const quality of QUALITIES) {
    const picture = await page.screenshot({ type: 'jpeg', quality, fullPage: true });
    if (picture.length > MOST_BYTES) continue;
    writeFileSync(path, picture);
    return;
  }
  throw new Error(`${path} is larger than ${MOST_BYTES} bytes at the least quality`);
}

const server = await preview({
  configFile: false,
  appType: 'mpa',
  build: { outDir: 'dist' },
  preview: { port: 0 },
  logLevel: 'silent',
});
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox'],
});
const wanted = process.argv[2] ?? '';
try {
  for (const [name, [screen, prepare]] of Object.entries(SCENES)) {
    if (!name.startsWith(wanted)) continue;
    for (const width of WIDTHS) {
      for (const colorScheme of THEMES) {
        const page = await browser.newPage({ viewport: { width, height: 800 }, colorScheme });
        await page.goto(`${server.resolvedUrls.local[0]}#/${screen}`);
        await prepare(page);
        await photograph(page, join(FOLDER, `${name}-${width}-${colorScheme}.jpg`));
        await page.close();
      }
    }
    console.log(name);
  }
} finally {
  await browser.close();
  await server.close();
}
