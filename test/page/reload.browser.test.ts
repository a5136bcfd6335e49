import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import scenario from '../../homebrew-demo/first-light/late-lcd.json?raw';
import { benchQuery, FIRST_STATE } from '../../src/ui/bench/bench-state.ts';
import { KeptFiles } from '../../src/ui/kept/kept-files.ts';
import { bench, drop, forgetPage, imageBytes, LABELS, loadPage, OWN_ID, SCENARIO, violations } from './page-shell.ts';

const button = (name: string | RegExp) => page.getByRole('button', { name, exact: typeof name === 'string' });
const isThere = (text: string | RegExp) => expect.element(page.getByText(text)).toBeVisible();
const strategy = () => page.getByLabelText('strategy of the game');
const chosen = () => bench().chosen.strategy;
const stages = () => bench().chosen.lightPath.stages;

beforeEach(async () => {
  await page.viewport(1100, 900);
  loadPage('');
  await wait();
});
afterEach(async () => {
  vi.restoreAllMocks();
  await forgetPage();
});

/** What was kept has been read. */
const wait = () => new Promise((done) => setTimeout(done, 100));

/** Load the page anew at the bare address, as a new tab does after a crash; what is in memory is gone. */
async function reload(hash = ''): Promise<void> {
  loadPage(hash);
  await wait();
}

async function makeLate(): Promise<void> {
  await button(/^console/).click();
  await button('Add a pure delay behind it').click();
  await userEvent.fill(page.getByLabelText(/^delay, 0 to 500 ms/), '50');
}

describe('after a reload', () => {
  test('the bench is as it was, with what can be taken back and what was typed; the caution is shown again', async () => {
    await makeLate();
    await userEvent.fill(page.getByLabelText(/^delay, 0 to 500 ms/), '50x');
    await strategy().selectOptions('calibrated');
    bench().open({ ...bench().chosen, aim: { x: 132.5, y: 120 } }, false);
    await button(/I have read this/).click();
    await expect.element(button('Pause')).toBeVisible();
    const before = bench().chosen;

    await reload();
    await expect.poll(() => bench().chosen).toEqual(before);
    expect(before).toMatchObject({ strategy: 'calibrated', aim: { x: 132.5, y: 120 } });
    await expect.element(button(/I have read this/)).toBeVisible();
    await button(/^pure delay/).click();
    await expect.element(page.getByLabelText(/^delay, 0 to 500 ms/)).toHaveValue('50x');
    await isThere(/found "50x", expected 0 to 500 ms\. It stays 50/);
    await button('Undo').click();
    await reload();
    await expect.poll(stages).toEqual([{ kind: 'pure-delay', delayMs: 32 }]);
    await button('Undo').click();
    expect(stages()).toEqual([]);
    await button('Redo').click();
    await button('Redo').click();
    expect(stages()).toEqual([{ kind: 'pure-delay', delayMs: 50 }]);
  });

  test('flashes are drawn as they were, but never in full', async () => {
    const flashes = () => page.getByRole('combobox', { name: /^flashes/ });
    await flashes().selectOptions('dimmed greys that cannot flash');
    await reload();
    await expect.element(flashes()).toHaveValue('reduced');
    await flashes().selectOptions('shown in full, small');
    await button('Show them, small').click();
    await expect.element(flashes()).toHaveValue('full');
    await reload();
    await expect.element(flashes()).toHaveValue('outline');
    expect(page.getByRole('alertdialog').elements()).toEqual([]);
  });

  test('an address with a state wins, and what was kept is one step back', async () => {
    await makeLate();
    const late = bench().chosen;
    const link = { ...FIRST_STATE, strategy: 'fixed-delay', aim: { x: 9, y: 8 } };
    await reload(`#/bench?${benchQuery(link)}`);
    await expect.poll(() => bench().chosen).toEqual(link);
    await button('Undo').click();
    expect(bench().chosen.lightPath).toEqual(late.lightPath);
  });

  test('an own program stands on the bench, and what was typed since is in its field', async () => {
    drop(new File([await imageBytes()], 'first-light.nes'), LABELS, SCENARIO);
    await expect.poll(chosen).toBe(OWN_ID);
    await button('Files and scenario of the own image').click();
    const typed = scenario.replace('byte(lampX)', 'byte(lampX');
    await userEvent.fill(page.getByLabelText('scenario, JSON'), typed);

    await reload();
    await expect.poll(chosen).toBe(OWN_ID);
    await expect.element(page.getByLabelText('scenario, JSON')).toHaveValue(typed);
    await isThere(/own image: first-light\.nes stands on the bench as it was until/);
    await isThere(/has nothing more at column 11, expected "\)"/);
    await button('Shoot once').click();
    await isThere(/own image: first-light\.nes, LCD, 50 ms late, wide-band sensor with baseline/);

    await button('Take it off the page').click();
    await reload();
    expect(chosen()).toBe(FIRST_STATE.strategy);
    expect(await new KeptFiles().get('own')).toBeUndefined();
  });

  test('files without a scenario are there with what was typed of it', async () => {
    drop(new File([await imageBytes()], 'first-light.nes'));
    await userEvent.fill(page.getByLabelText('scenario, JSON'), '{ "scenario": 1');
    await reload();
    await expect.element(page.getByLabelText('scenario, JSON')).toHaveValue('{ "scenario": 1');
    await isThere(/^first-light\.nes, 40\s976 bytes$/);
    expect(chosen()).toBe(FIRST_STATE.strategy);
  });
});

test('an address of no screen is told, with those that there are', async () => {
  await reload('#/lagmap');
  await isThere(/This link cannot be opened: screen: found "lagmap", expected bench, lag-map, flash-check\./);
  await page.getByRole('link', { name: 'Lag map' }).click();
  await expect.element(page.getByText(/This link cannot be opened/)).not.toBeInTheDocument();
});

/** Two strategies at two delays, one shot each; a step that is none yet. */
async function runSmallMap(): Promise<void> {
  await isThere(/cells on the map \(/);
  await userEvent.fill(page.getByLabelText('delay to, ms'), '60');
  await userEvent.fill(page.getByLabelText('step, ms'), '60');
  await userEvent.fill(page.getByLabelText('shots at each aim'), '1');
  for (const name of ['calibrated', 'fixed delay', 'LCD', 'x 52, y 36', 'x 212, y 204', 'x 90, y 70'])
    await page.getByLabelText(name, { exact: true }).click();
  await button('Run it').click();
  await expect.element(page.getByText('✓ Finished.'), { timeout: 60_000 }).toBeVisible();
}

const known = /4 of 4 cells of the plan, 4 of 4 shots/;
const shotOf = async (): Promise<string> =>
  JSON.stringify(((await new KeptFiles().get('lag-map')) as { journal: readonly string[] } | undefined)?.journal);

describe('the lag map', () => {
  test('keeps its form and its shots while another screen is looked at, and after a reload', async () => {
    await reload('#/lag-map');
    await runSmallMap();
    await userEvent.fill(page.getByLabelText('step, ms'), '6x');
    await page.getByRole('link', { name: 'Bench' }).click();
    await expect.element(page.getByText('✓ Finished.')).not.toBeVisible();
    await page.getByRole('link', { name: 'Lag map' }).click();
    await isThere(known);
    await expect.element(page.getByLabelText('step, ms')).toHaveValue('6x');
    const before = await shotOf();
    expect(JSON.parse(before).length).toBe(5);

    await reload('#/lag-map');
    await isThere(known);
    await isThere('✓ Finished.');
    await expect.element(page.getByLabelText('step, ms')).toHaveValue('6x');
    await isThere('step: found "6x", expected a number from 0.001 to 500');
    await expect.element(page.getByLabelText('calibrated', { exact: true })).not.toBeChecked();
    await userEvent.fill(page.getByLabelText('step, ms'), '60');
    await isThere(/4 shots, 4 of them known\./);
    expect(await shotOf()).toBe(before);
    expect(await violations()).toEqual([]);
  });

  test('tells what it cannot read of either, puts it aside and begins anew', async () => {
    await reload('#/lag-map');
    await runSmallMap();
    const record = (await new KeptFiles().get('lag-map')) as { plan: string; journal: string[] };
    document.body.replaceChildren();
    await new KeptFiles().put('lag-map', {
      ...record,
      journal: record.journal.map((line) => line.replace('"n":1', '"n":2')),
    });
    localStorage.setItem('latelight.lag-map', '{"kept":1,"values":{}}');
    await reload('#/lag-map');
    await isThere(/kept of the form of the lag map cannot be read: values: found something else/);
    await isThere(/kept of the shots of the lag map cannot be read: /);
    await isThere('Nothing is known yet. Hatched cells fill as they are run.');
    await expect.element(page.getByLabelText('step, ms')).toHaveValue('10');
    expect(localStorage.getItem('latelight.lag-map.unread-1')).toBe('{"kept":1,"values":{}}');
  });
});

describe('what was kept cannot be read', () => {
  test.each([
    ['{"kept":1,', /What this browser had kept of the bench cannot be read: it is not JSON/],
    ['{"kept":7}', /cannot be read: version: found 7, expected 1\./],
  ])('%s: it is told and put aside, and the page begins anew', async (text, sentence) => {
    await makeLate();
    document.body.replaceChildren();
    localStorage.setItem('latelight.bench', text);
    await reload();
    await isThere(sentence);
    expect(bench().chosen).toEqual(FIRST_STATE);
    expect(localStorage.getItem('latelight.bench.unread-1')).toBe(text);
    expect(await violations()).toEqual([]);
    const files: Blob[] = [];
    vi.spyOn(URL, 'createObjectURL').mockImplementation((file) => {
      files.push(file as Blob);
      return 'data:,';
    });
    await button('Save what was kept').click();
    expect(await files[0]!.text()).toBe(text);
    await makeLate();
    await reload();
    expect(page.getByText(/cannot be read/).elements()).toEqual([]);
    expect(stages()).toHaveLength(1);
    expect(localStorage.getItem('latelight.bench.unread-1')).toBe(text);
  });

  test('a record of an own program', async () => {
    await new KeptFiles().put('own', { version: 1, draft: { image: 'not bytes' } });
    await reload();
    await isThere(/What this browser had kept of your image cannot be read/);
    expect(await new KeptFiles().get('own')).toBeUndefined();
  });

  test('an own program whose files the browser has cleared', async () => {
    drop(new File([await imageBytes()], 'first-light.nes'), LABELS, SCENARIO);
    await expect.poll(chosen).toBe(OWN_ID);
    document.body.replaceChildren();
    await new KeptFiles().remove('own');
    await reload();
    await isThere(/The image "first-light\.nes" stood on the bench, but this browser has not kept it/);
    expect(chosen()).toBe(FIRST_STATE.strategy);
  });
});

test('where the browser keeps nothing the page says so once, and works', async () => {
  vi.spyOn(Storage.prototype, 'setItem').mockImplementation(() => {
    throw new DOMException('full', 'QuotaExceededError');
  });
  vi.spyOn(Storage.prototype, 'getItem').mockImplementation(() => {
    throw new DOMException('private', 'SecurityError');
  });
  vi.spyOn(IDBFactory.prototype, 'open').mockImplementation(() => {
    throw new DOMException('private', 'SecurityError');
  });
  await reload();
  await makeLate();
  drop(new File([await imageBytes()], 'first-light.nes'), LABELS, SCENARIO);
  await expect.poll(chosen).toBe(OWN_ID);
  await isThere(/This browser keeps nothing more for this page/);
  expect(page.getByText(/This browser keeps nothing more/).elements()).toHaveLength(1);
  await button('Shoot once').click();
  await isThere(/own image: first-light\.nes, LCD, 50 ms late, wide-band sensor with baseline/);
});
