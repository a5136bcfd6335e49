// Measures the page as built (dist) in headless Chromium; one line a figure, `name value unit max goal`. The same is measured
// of a bare page beside it, which tells what of a figure is the machine's.
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { chromium } from 'playwright';
import { preview } from 'vite';
import { servedBarePage } from './bare-page.mjs';
import { rulerStepMs } from './ruler-steps.mjs';

const LOADS = 5;
const INPUTS = 60;
const LIVE_SHOTS = 10;
const LATE_LCD = {
  stages: [{ kind: 'pure-delay', delayMs: 50 }],
  panel: { kind: 'lcd' },
  room: { kind: 'constant-light' },
  optics: { kind: 'gaussian-spot' },
  sensor: { kind: 'wide-band' },
};

const button = (page, name) => page.getByRole('button', { name });

/** From the start of navigation to the first picture; its start is pressed as soon as there is a button. */
async function firstPictureMs(browser, url) {
  const times = [];
  for (let load = 0; load < LOADS; load++) {
    const context = await browser.newContext();
    const page = await context.newPage();
    await page.addInitScript(() => {
      const { putImageData } = CanvasRenderingContext2D.prototype;
      CanvasRenderingContext2D.prototype.putImageData = function (...picture) {
        putImageData.apply(this, picture);
        globalThis.firstPicture ??= performance.now();
      };
    });
    await page.goto(url);
    await page.getByRole('button', { name: /I have read this/ }).click();
    await page.waitForFunction(() => globalThis.firstPicture !== undefined);
    times.push(await page.evaluate(() => globalThis.firstPicture));
    await context.close();
  }
  return median(times);
}

/** What the main thread does while somebody plays: aims, and does what is `done` then. */
async function playMeasured(browser, url, done) {
  const page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
  await page.addInitScript(() => {
    globalThis.inputs = [];
    new PerformanceObserver((list) => {
      for (const { name, duration } of list.getEntries()) if (name === 'keydown') globalThis.inputs.push(duration);
    }).observe({ type: 'event', durationThreshold: 16 });
  });
  await browser.startTracing(page, { categories: ['toplevel', 'devtools.timeline', '__metadata'] });
  await page.goto(url);
  await page.getByRole('button', { name: /I have read this/ }).click();
  const stage = page.locator('.play');
  await stage.waitFor();
  await page.waitForTimeout(500);
  for (let input = 0; input < INPUTS; input++) {
    await page.keyboard.press(input % 2 === 0 ? 'ArrowRight' : 'ArrowLeft');
    await page.waitForTimeout(40 + (input % 7));
  }
  const inputs = await page.evaluate(() => globalThis.inputs);
  await done(page);
  const trace = JSON.parse((await browser.stopTracing()).toString());
  await page.close();
  return { inputs, longestTaskMs: longestTaskMs(trace.traceEvents) };
}

/** Shoot, change the light's way, hold an instant, go on. */
async function workOnTheBench(page) {
  await page.getByRole('button', { name: /^Shoot once/ }).click();
  await page.locator('time-ruler').waitFor();
  await page.getByRole('button', { name: /^picture tube/ }).click();
  await page.getByLabel('model').selectOption('lcd');
  await page.getByRole('button', { name: /^Shoot once/ }).click();
  await page.locator('time-ruler').waitFor();
  await page.locator('time-ruler').focus();
  await page.keyboard.press('h');
  for (let step = 0; step < 20; step++) await page.keyboard.press('ArrowRight');
  await page.getByRole('button', { name: 'Go on' }).click();
  await page.waitForTimeout(2000);
}

/**
 * Live shots that miss on a late LCD: from the verdict on the page to its proved cause; the wand is moved between them. At the
 * first one the code is compiled; it is not counted.
 */
async function causeMs(browser, url) {
  const page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
  await page.goto(
    `${url}#/bench?v=1&strategy=same-frame-tested&aim=52,36&light=${encodeURIComponent(JSON.stringify(LATE_LCD))}`,
  );
  await button(page, /I have read this/).click();
  await button(page, 'Pause').waitFor();
  const bench = page.locator('latelight-play');
  const frames = async (count) => {
    const frame = async () => Number(await bench.getAttribute('data-frames'));
    const from = await frame();
    while ((await frame()) < from + count) await page.waitForTimeout(50);
  };
  await frames(90);
  await page.locator('.play').focus();
  await page.keyboard.down('q');
  await frames(10);
  await page.keyboard.up('q');
  await frames(60);
  await bench.evaluate((host) => {
    const answer = host.shadowRoot.querySelector('.answer');
    globalThis.causeTimes = [];
    let verdictMs;
    new MutationObserver(() => {
      const hasCause = answer.querySelector('.cause') !== null;
      if (!hasCause && answer.querySelector('.verdict.wrong') !== null) verdictMs ??= performance.now();
      if (!hasCause || verdictMs === undefined) return;
      globalThis.causeTimes.push(performance.now() - verdictMs);
      verdictMs = undefined;
    }).observe(answer, { childList: true, subtree: true, characterData: true });
  });
  for (let shot = 0; shot < LIVE_SHOTS; shot++) {
    await page.keyboard.press(shot % 2 === 0 ? 'ArrowRight' : 'ArrowLeft');
    await frames(8);
    await page.keyboard.press('Space');
    await frames(70);
  }
  const times = await page.evaluate(() => globalThis.causeTimes);
  await page.close();
  if (times.length < LIVE_SHOTS) throw new Error(`${times.length} causes for ${LIVE_SHOTS} live shots`);
  return Math.max(...times.slice(1));
}

/** Longest task of the main thread of the page. */
function longestTaskMs(events) {
  const main = new Set(
    events
      .filter(({ name, args }) => name === 'thread_name' && args.name === 'CrRendererMain')
      .map(({ pid, tid }) => `${pid} ${tid}`),
  );
  const tasks = events.filter(({ name, pid, tid }) => /RunTask$/.test(name) && main.has(`${pid} ${tid}`));
  if (tasks.length === 0) throw new Error('the browser wrote down no task');
  return Math.max(...tasks.map(({ dur }) => (dur ?? 0) / 1000));
}

/** What 95 % of the inputs stay within; those that were on the screen within 16 ms are not written down by the browser. */
function inputToPictureMs(inputs) {
  const quick = Array(Math.max(0, INPUTS - inputs.length)).fill(16);
  const all = [...quick, ...inputs].sort((a, b) => a - b);
  return all[Math.ceil(0.95 * all.length) - 1];
}

/** All that the page is made of, compressed one by one; source maps are fetched by nobody but a developer. */
function compressedKb(folder) {
  let bytes = 0;
  for (const entry of readdirSync(folder)) {
    const path = join(folder, entry);
    if (statSync(path).isDirectory()) {
      if (entry !== 'cli' && entry !== 'causes' && entry !== 'theorem') bytes += compressedKb(path) * 1000;
    } else if (!entry.endsWith('.map')) bytes += gzipSync(readFileSync(path), { level: 9 }).length;
  }
  return bytes / 1000;
}

const median = (values) => [...values].sort((a, b) => a - b)[values.length >> 1];
const tell = (name, value, unit, goal) =>
  console.log(`${name} ${Number(value.toPrecision(3))} ${unit}${goal === undefined ? '' : ` max ${goal}`}`);

const server = await preview({
  configFile: false,
  appType: 'mpa',
  build: { outDir: 'dist' },
  preview: { port: 0 },
  logLevel: 'silent',
});
const url = server.resolvedUrls.local[0];
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox'],
});
const bare = await servedBarePage();
try {
  tell('bare_first_picture', await firstPictureMs(browser, bare.url), 'ms');
  tell('page_first_picture', await firstPictureMs(browser, url), 'ms', 1000);
  const ofBare = await playMeasured(browser, bare.url, (page) => page.waitForTimeout(2000));
  const ofPage = await playMeasured(browser, url, workOnTheBench);
  tell('bare_input_to_picture', inputToPictureMs(ofBare.inputs), 'ms');
  tell('page_input_to_picture', inputToPictureMs(ofPage.inputs), 'ms', 34);
  tell('bare_longest_task', ofBare.longestTaskMs, 'ms');
  tell('page_longest_task', ofPage.longestTaskMs, 'ms', 50);
  tell('page_verdict_to_cause', await causeMs(browser, url), 'ms', 100);
  tell('page_compressed', compressedKb('dist'), 'kB', 300);
  tell('ruler_step', await rulerStepMs(browser), 'ms', 16.7);
} finally {
  await browser.close();
  await server.close();
  bare.close();
}
