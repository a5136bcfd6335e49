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
const QUALITIES = [60, 50, 40, 30];
const SHARES = [1, 0.75, 0.5, 0.35, 0.25];

const button = (page, name) => page.getByRole('button', { name });

/** The bench with an LCD that is 50 ms late. */
const LATE_LCD = {
  panel: { kind: 'lcd' },
  room: { kind: 'constant-light' },
  optics: { kind: 'gaussian-spot' },
  sensor: { kind: 'wide-band' },
  stages: [{ kind: 'pure-delay', delayMs: 50 }],
};
const LATE = `bench?v=1&strategy=same-frame-tested&aim=52,36&light=${encodeURIComponent(JSON.stringify(LATE_LCD))}`;

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

/** The bench as it is behind the first minute. */
async function skipFirstMinute(page) {
  await button(page, 'Skip it').click();
}

/** Every screen, and what to do on it before the picture is taken: empty, at work, with an error. */
const SCENES = {
  'first-minute': ['bench', async () => {}],
  'first-minute-miss': [
    'bench',
    async (page) => {
      for (const judgement of ['hit', 'miss']) {
        await page.locator('#first-minute-step').click();
        await page.locator('.minute-steps').getByText(judgement).first().waitFor();
      }
      await page.getByText(/^Proved/).waitFor();
    },
  ],
  'bench-empty': ['bench', skipFirstMinute],
  'bench-running': [
    'bench',
    async (page) => {
      await button(page, /I have read this/).click();
      await button(page, 'Pause').waitFor();
      await page.locator('.play').focus();
      await page.keyboard.press('q');
      await page.waitForTimeout(3000);
    },
  ],
  'bench-miss': [
    LATE,
    async (page) => {
      await skipFirstMinute(page);
      await shootOnce(page);
      await page.getByText(/^Proved/).waitFor();
    },
  ],
  'bench-comparison': [
    'bench',
    async (page) => {
      await skipFirstMinute(page);
      await shootOnce(page);
      await page.locator('#keep-shot').click();
      await button(page, /^picture tube/).click();
      await page.getByLabel('model').selectOption('lcd');
      await typeDelay(page, '50');
      await button(page, /^Shoot once/).click();
      await page.locator('shot-comparison time-ruler').nth(1).waitFor();
      await page.getByText(/^Proved/).waitFor();
    },
  ],
  'bench-error': [
    'bench',
    async (page) => {
      await skipFirstMinute(page);
      await typeDelay(page, '501');
    },
  ],
  'own-image-error': [
    'bench',
    async (page) => {
      await skipFirstMinute(page);
      await page.locator('#own-image').click();
      const chooser = page.waitForEvent('filechooser');
      await button(page, 'Choose files').click();
      await (await chooser).setFiles('homebrew-demo/three-lanterns/three-lanterns.bin');
      await page.waitForTimeout(700);
    },
  ],
  'lag-map-empty': ['lag-map', async () => {}],
  'lag-map-running': [
    'lag-map',
    async (page) => {
      await button(page, 'Run it').click();
      await page.waitForTimeout(4000);
    },
  ],
  'lag-map-error': [
    'lag-map',
    async (page) => {
      await page.getByRole('textbox').first().fill('many');
    },
  ],
  'flash-check-empty': ['flash-check', async () => {}],
  'flash-check-done': [
    'flash-check',
    async (page) => {
      await button(page, 'Check both').click();
      await page.waitForFunction(() => {
        const screen = document.querySelector('latelight-page')?.shadowRoot?.querySelector('flash-screen');
        return screen?.shadowRoot?.querySelector('form button')?.disabled === false;
      });
      await page.waitForTimeout(500);
    },
  ],
  'flash-check-error': ['flash-check', async (page) => page.getByLabel(/^size it is seen at/).fill('0')],
};

/** The best picture that is small enough: the whole page, or as much of it from the top. */
async function photograph(page, path) {
  const { width } = page.viewportSize();
  const whole = await page.evaluate(() => document.documentElement.scrollHeight);
  for (const share of SHARES) {
    const clip = { x: 0, y: 0, width, height: Math.round(share * whole) };
    for (const quality of QUALITIES) {
      const picture = await page.screenshot({ type: 'jpeg', quality, fullPage: true, clip });
      if (picture.length > MOST_BYTES) continue;
      writeFileSync(path, picture);
      return;
    }
  }
  throw new Error(`${path} does not fit ${MOST_BYTES} bytes`);
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
