import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import scenario from '../../homebrew-demo/first-light/late-lcd.json?raw';
import plan from '../../homebrew-demo/three-lanterns/sweep.json?raw';
import { benchFileText, benchQuery, FIRST_STATE } from '../../src/ui/bench/bench-state.ts';
import {
  bench,
  drop,
  forgetPage,
  imageBytes,
  LABELS,
  loadPage,
  OWN_ID as OWN,
  SCENARIO,
  violations,
} from './page-shell.ts';

const SLOWLY = { timeout: 30_000 };
let image: Uint8Array<ArrayBuffer>;
let IMAGE: File;

beforeEach(async () => {
  await page.viewport(1100, 900);
  image ??= await imageBytes();
  IMAGE = new File([image], 'first-light.nes');
  loadPage('');
});
afterEach(forgetPage);

const button = (name: string | RegExp) => page.getByRole('button', { name, exact: typeof name === 'string' });
const isThere = (text: string | RegExp) => expect.element(page.getByText(text), SLOWLY).toBeVisible();
const scenarioField = () => page.getByLabelText('scenario, JSON');
const chosen = () => (page.getByLabelText('strategy of the game').element() as HTMLSelectElement).value;

describe('image, labels and scenario dropped together', () => {
  test('are played, shot once and explained, and nothing claims to be another game', async () => {
    drop(IMAGE, LABELS, SCENARIO);
    await expect.poll(chosen).toBe(OWN);
    await expect.poll(() => bench().chosen.lightPath.stages).toEqual([{ kind: 'pure-delay', delayMs: 50 }]);
    await button('Shoot once').click();
    await expect.element(page.getByText('too early').first(), SLOWLY).toBeVisible();
    await isThere(/Proved: with this alone changed/);
    await expect
      .element(page.getByText('own image: first-light.nes, LCD, 50 ms late, wide-band sensor with baseline'))
      .toBeVisible();
    await button(/I have read this/).click();
    await expect.element(button('Pause')).toBeVisible();
    await expect.poll(() => Number(bench().dataset['frames'] ?? 0), SLOWLY).toBeGreaterThan(30);
    const title = page.getByRole('application').element().getAttribute('aria-label');
    expect(title).toMatch(/^own image: first-light\.nes\. Arrow keys/);
    expect(bench().shadowRoot!.querySelector('.lead')!.textContent).not.toContain('Lamplighter');
    expect(decodeURIComponent(location.hash)).toContain(`strategy=${OWN}`);
    expect(await violations()).toEqual([]);
  });

  test('without shots the first target that is live is shot at', async () => {
    const { shots: _, ...others } = JSON.parse(scenario);
    drop(IMAGE, LABELS, new File([JSON.stringify(others)], 'no-shots.json'));
    await expect.poll(chosen).toBe(OWN);
    bench().openOwnSetUp();
    bench().open({ ...bench().chosen, aim: { x: 128, y: 112 } }, false);
    await isThere(/One shot at the aim, when the first target has been live for a while/);
    await button('Shoot once').click();
    await isThere(/Proved: with this alone changed/);
  });

  test('a saved bench is opened, whichever files are dropped with it', async () => {
    drop(new File([benchFileText({ ...FIRST_STATE, strategy: 'calibrated' })], 'bench.json'));
    await expect.poll(chosen).toBe('calibrated');
    expect(page.getByText('An image of your own', { exact: true }).elements()).toHaveLength(1);
  });
});

describe('parts of a program', () => {
  test('the image alone: what else is needed and why, and a scenario to complete, of which nothing typed is lost', async () => {
    drop(IMAGE);
    await isThere(/Labels are missing: the file that ld65 writes/);
    await isThere(/a scenario says where the targets are/);
    await isThere(/names "targetX", which is not known/);
    expect(chosen()).toBe(FIRST_STATE.strategy);
    expect(await violations()).toEqual([]);
    drop(LABELS);
    await expect.element(page.getByText(/Labels are missing/)).not.toBeInTheDocument();
    expect(JSON.parse((scenarioField().element() as HTMLTextAreaElement).value).labels).toBe('first-light.lbl');
    const half = scenario.replace('byte(lampX)', 'byte(lampX');
    await userEvent.fill(scenarioField(), half);
    await isThere(/has nothing more at column 11, expected "\)"/);
    await button('Put it on the bench').click();
    expect(chosen()).toBe(FIRST_STATE.strategy);
    drop(new File(['{"scenario": 2'], 'other.json'));
    await isThere(/the scenario is not JSON/);
    await button('Put back what stood before').click();
    await expect.element(scenarioField()).toHaveValue(half);
    await userEvent.fill(scenarioField(), scenario);
    await button('Put it on the bench').click();
    await isThere('✓ own image: first-light.nes stands on the bench.');
    expect(chosen()).toBe(OWN);
    expect(await violations()).toEqual([]);
  });

  test.each<[what: string, files: () => File[], message: RegExp]>([
    [
      'a broken image',
      () => [new File([image.slice(0, 30_000)], 'first-light.nes')],
      /has 30000 bytes, expected 40976/,
    ],
    [
      'an image of 8 MiB and a byte',
      () => [new File([new Uint8Array(8 * 2 ** 20 + 1), image], 'a.nes')],
      /"a\.nes" has 8429585 bytes, expected at most 8388608/,
    ],
    ['two images', () => [new File([image], 'a.nes'), new File([image], 'b.nes')], /found 2 cartridge images together/],
    ['a source', () => [new File(['lda #1'], 'game.s')], /"game\.s" is no file that is read here/],
    ['a plan', () => [new File([plan], 'sweep.json')], /"sweep\.json" is the plan of a lag map/],
    [
      'a file of labels with a fault',
      () => [new File(['al 00C000 .a\nlamp'], 'first-light.lbl')],
      /line 2 of the label file "first-light\.lbl" is "lamp"/,
    ],
  ])('%s is explained, and what stood on the bench is played on', async (_, files, message) => {
    drop(IMAGE, LABELS, SCENARIO);
    await expect.poll(chosen).toBe(OWN);
    drop(...files());
    await isThere(message);
    expect(chosen()).toBe(OWN);
    await button('Shoot once').click();
    await isThere(/own image: first-light\.nes, LCD, 50 ms late/);
    expect(await violations()).toEqual([]);
  });

  test('what is taken off the page can be put back', async () => {
    drop(IMAGE, LABELS, SCENARIO);
    await expect.poll(chosen).toBe(OWN);
    await button('Files and scenario of the own image').click();
    await button('Take it off the page').click();
    await expect.poll(chosen).toBe(FIRST_STATE.strategy);
    await button('Put back what stood before').click();
    await page.getByLabelText('strategy of the game').selectOptions('own image: first-light.nes');
    await expect.poll(chosen).toBe(OWN);
    await button('Close').click();
    expect(bench().shadowRoot!.activeElement?.id).toBe('own-image');
  });
});

test('a link cannot carry an image: it says so where the image is not there, and opens when it is', async () => {
  const late = { ...FIRST_STATE, strategy: OWN, aim: { x: 128, y: 112 } };
  loadPage(`#/bench?${benchQuery(late)}`);
  await isThere(/This link cannot be opened: strategy: the own image "first-light\.nes" is not on this page/);
  drop(IMAGE, LABELS, SCENARIO);
  await expect.poll(() => bench().chosen).toEqual(late);
  await expect.element(page.getByText(/This link cannot be opened/)).not.toBeInTheDocument();
});

test('the flash check takes it, too', async () => {
  drop(IMAGE, LABELS, SCENARIO);
  await expect.poll(chosen).toBe(OWN);
  await page.getByRole('link', { name: 'Flash check' }).click();
  // What stands on the bench is what is judged, and the result names it.
  const strategy = page.getByRole('combobox', { name: 'strategy of the game' });
  await expect
    .poll(() => (strategy.element() as HTMLSelectElement).selectedOptions[0]!.text, { timeout: 20_000 })
    .toBe('own image: first-light.nes');
  await button('Check both').click();
  await expect.element(page.getByRole('heading', { name: 'The game' }), { timeout: 60_000 }).toBeVisible();
  await isThere(/own image: first-light\.nes: \d/);
});

test('nothing sticks out at 320 pixels', async () => {
  await page.viewport(320, 700);
  drop(IMAGE);
  await isThere(/Labels are missing/);
  expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(320);
});
