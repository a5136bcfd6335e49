import axe from 'axe-core';
import { html, render } from 'lit';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import elsewhere from '../../homebrew-demo/three-lanterns/sweep.json?raw';
import '../../src/ui/lag-map/lag-map.ts';
import '../../src/ui/page.css';
import { FIRST_STATE } from '../../src/ui/bench/bench-state.ts';
import type { LagMap } from '../../src/ui/lag-map/lag-map.ts';
import type { OpenedShot, OpenShotEvent } from '../../src/ui/lag-map/lag-map-events.ts';
import { type PlayableProgram, PROGRAMS } from '../../src/ui/programs.ts';
import recorded from './lag-map-hash.json';
import { COMPARED, hashOfCells } from './lag-map-plan.ts';

const TWO = PROGRAMS.filter(({ id }) => COMPARED.some((one) => one === id));
let opened: OpenedShot[] = [];

function show(programs: readonly PlayableProgram[] = TWO): LagMap {
  opened = [];
  render(
    html`<main><h1>Latelight</h1><lag-map .programs=${programs} @open-shot=${(event: OpenShotEvent) => opened.push(event.detail)}></lag-map></main>`,
    document.body.appendChild(document.createElement('div')),
  );
  return document.querySelector('lag-map')!;
}

beforeEach(async () => {
  await page.viewport(1200, 900);
});
afterEach(() => {
  vi.restoreAllMocks();
  document.body.replaceChildren();
});

const button = (name: string | RegExp) => page.getByRole('button', { name, exact: typeof name === 'string' });
const isThere = (text: string | RegExp) => expect.element(page.getByText(text)).toBeVisible();
const SLOWLY = { timeout: 120_000 };

/** 2 strategies by 5 delays on the LCD, at two aims. */
async function typeSmallPlan(): Promise<void> {
  await isThere(/cells on the map \(/);
  await userEvent.fill(page.getByLabelText('delay to, ms'), '80');
  await userEvent.fill(page.getByLabelText('step, ms'), '20');
  await userEvent.fill(page.getByLabelText('shots at each aim'), '3');
  for (const name of ['picture tube', 'x 132, y 120', 'x 90, y 70']) await page.getByLabelText(name).click();
  await isThere(
    /10 cells on the map \(2 rows, 5 delays\)\. With 2 aims each they are 20 cells of the plan:\s+60 shots/,
  );
}

async function runSmallPlan(): Promise<void> {
  await typeSmallPlan();
  await button('Run it').click();
  await expect.element(page.getByText('✓ Finished.'), SLOWLY).toBeVisible();
}

/** The texts of the files that the page lets the browser save. */
function savedFiles(): Blob[] {
  const files: Blob[] = [];
  vi.spyOn(URL, 'createObjectURL').mockImplementation((file) => {
    files.push(file as Blob);
    return 'data:,';
  });
  return files;
}

async function saved(kind: string): Promise<Blob> {
  const files = savedFiles();
  await button(kind).click();
  await expect.poll(() => files.length).toBe(1);
  vi.restoreAllMocks();
  return files[0]!;
}

async function violations(): Promise<string[]> {
  const found = await axe.run(document.body, { rules: { 'target-size': { enabled: true } } });
  return found.violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target).join(' ')}`);
}

const openPlanFile = (text: string, name: string) =>
  userEvent.upload(page.getByLabelText('plan file'), new File([text], name, { type: 'application/json' }));

describe('a small sweep', () => {
  test('gives the bytes of Node, in files of four kinds', async () => {
    show();
    await runSmallPlan();
    const json = JSON.parse(await (await saved('JSON')).text());
    expect(json.cells.length).toBe(20);
    expect(hashOfCells(json.cells)).toBe(recorded.small);
    expect((await (await saved('CSV')).text()).split('\r\n').length).toBe(1 + 20 + 1);
    expect(await (await saved('SVG')).text()).toContain('Which strategy survives which lag');
    const picture = await createImageBitmap(await saved('PNG'));
    expect(picture.width).toBeGreaterThan(1000);
    expect(await violations()).toEqual([]);
  });

  test('that is cancelled stops within 200 ms, keeps what is known and goes on to the same bytes', async () => {
    const map = show();
    await typeSmallPlan();
    await button('Run it').click();
    await expect.element(page.getByText(/[1-9]\d* of 20 cells/), SLOWLY).toBeVisible();
    const cancel = button('Cancel the run').element() as HTMLButtonElement;
    const before = performance.now();
    cancel.click();
    await map.updateComplete;
    const ms = performance.now() - before;
    console.log(`a run of the lag map was cancelled in ${ms.toFixed(1)} ms`);
    expect(ms).toBeLessThan(200);
    await isThere('Cancelled.');
    const known = Number(/(\d+) of 20 cells/.exec(map.shadowRoot!.querySelector('.state')!.textContent!)![1]);
    expect(known).toBeGreaterThan(0);
    expect(known).toBeLessThan(20);
    const partial = JSON.parse(await (await saved('JSON')).text());
    expect(partial.cells.length).toBe(known);
    expect(partial.isPassed).toBe(false);
    await new Promise((done) => setTimeout(done, 500));
    await isThere(new RegExp(`${known} of 20 cells`));
    await button('Go on with the run').click();
    await expect.element(page.getByText('✓ Finished.'), SLOWLY).toBeVisible();
    expect(hashOfCells(JSON.parse(await (await saved('JSON')).text()).cells)).toBe(recorded.small);
  });

  test('is read by keys, cell by cell; Enter opens the shot', async () => {
    const map = show();
    await runSmallPlan();
    const chart = map.shadowRoot!.querySelector('lag-map-chart')!;
    const spoken = () => chart.shadowRoot!.querySelector('[aria-live]')!.textContent;
    chart.shadowRoot!.querySelector<HTMLElement>('[role="application"]')!.focus();
    await expect
      .poll(spoken)
      .toMatch(
        /^same frame, tested dark, LCD, 0 ms late: right 6 of 6 shots, 100.0 %, 95 % interval 61.0 % to 100.0 %, sampled\. Aimed at targets 6 of 6 hit\.$/,
      );
    await userEvent.keyboard('{ArrowDown}{End}');
    await expect.poll(spoken).toMatch(/^fixed delay, LCD, 80 ms late: right \d of 6 shots, .* Not right: /);
    await userEvent.keyboard('{ArrowDown}{ArrowRight}{Home}{ArrowUp}{ArrowRight}{ArrowRight}');
    await expect.poll(spoken).toMatch(/^same frame, tested dark, LCD, 40 ms late: /);
    await userEvent.keyboard('{Enter}');
    await expect.poll(() => opened.length).toBe(1);
    expect(opened[0]).toMatchObject({
      strategy: 'same-frame-tested',
      lightPath: {
        stages: [{ kind: 'pure-delay', delayMs: 40 }],
        panel: { kind: 'lcd' },
        sensor: { kind: 'wide-band' },
      },
    });
    expect([52, 212]).toContain(opened[0]!.aim.x);
    expect(opened[0]!.shot).toBeGreaterThan(0);
    expect(await violations()).toEqual([]);
  });

  test('is read by the pointer too, and stands as a table', async () => {
    const map = show();
    await runSmallPlan();
    await page.getByText('The map as a table').click();
    await expect.poll(() => map.shadowRoot!.querySelectorAll('td').length).toBe(10);
    expect(map.shadowRoot!.querySelector('td')!.textContent).toMatch(/6 of 6 right\s+100 %, 61 % to 100 %/);
    const chart = map.shadowRoot!.querySelector('lag-map-chart')!;
    const { left, top } = chart.shadowRoot!.querySelector('#map')!.getBoundingClientRect();
    const scroll = chart.shadowRoot!.querySelector('.scroll')!;
    scroll.dispatchEvent(new PointerEvent('pointermove', { clientX: left + 230, clientY: top + 60 }));
    await expect
      .poll(() => chart.shadowRoot!.querySelector('h3')?.textContent)
      .toBe('same frame, tested dark, LCD, 0 ms late');
    expect(await violations()).toEqual([]);
  });

  test('does not hold the page up', async () => {
    const tasks: number[] = [];
    show();
    await typeSmallPlan();
    const observer = new PerformanceObserver((list) =>
      tasks.push(...list.getEntries().map(({ duration }) => duration)),
    );
    observer.observe({ type: 'longtask' });
    await button('Run it').click();
    await expect.element(page.getByText('✓ Finished.'), SLOWLY).toBeVisible();
    observer.disconnect();
    const longest = Math.max(0, ...tasks);
    console.log(`the longest task of the page while a lag map runs: ${longest === 0 ? 'under 50' : longest} ms`);
    // The aim is 50 ms; other work may hold the machine up, but a cell in the page's own thread takes longer than this.
    expect(longest).toBeLessThan(300);
  });
});

test('workers that take long to start do not make the time left longer', async () => {
  const Given = window.Worker;
  // A worker whose messages come 6 s late at first, as over a slow connection.
  let isHeld = true;
  let goneOnMs = 0;
  window.Worker = class extends Given {
    readonly #later: (() => void)[] = [];
    constructor(url: string | URL, options?: WorkerOptions) {
      super(url, options);
      setTimeout(() => {
        isHeld = false;
        goneOnMs ||= performance.now();
        for (const post of this.#later.splice(0)) post();
      }, 6000);
    }
    override postMessage(message: unknown, transfer?: unknown): void {
      const post = () => super.postMessage(message, transfer as Transferable[]);
      if (isHeld) this.#later.push(post);
      else post();
    }
  };
  const told: { readonly left: number; readonly done: number; readonly atMs: number }[] = [];
  try {
    const map = show();
    await typeSmallPlan();
    await userEvent.fill(page.getByLabelText('shots at each aim'), '12');
    await isThere(/240 shots/);
    await button('Run it').click();
    const look = (): boolean => {
      const text = map.shadowRoot!.querySelector('.state')!.textContent!;
      const [, done, left] = /(\d+) of 240 shots[\s\S]*about (\d+) s left/.exec(text) ?? [];
      if (left !== undefined) told.push({ left: Number(left), done: Number(done), atMs: performance.now() });
      return text.includes('Finished');
    };
    await expect.poll(look, { timeout: 60_000, interval: 20 }).toBe(true);
  } finally {
    window.Worker = Given;
  }
  expect(told.length).toBeGreaterThan(0);
  // The time that the pace was taken over, from what is told: no longer than since the workers went on, but for the rounding.
  for (const { left, done, atMs } of told) {
    const takenS = ((left - 1) * done) / (240 - done);
    expect(takenS).toBeLessThan((atMs - goneOnMs) / 1000 + 0.5);
  }
});

describe('what is wrong', () => {
  test('in the form is told at its field and stays there', async () => {
    show();
    await isThere(/cells on the map \(/);
    const field = page.getByLabelText('delay to, ms');
    await userEvent.fill(field, 'abc');
    await isThere('✕ delay to: found "abc", expected a number from 0 to 500');
    await expect.element(field).toHaveAttribute('aria-invalid', 'true');
    await expect.element(button('Run it')).toBeDisabled();
    await page.getByLabelText('LCD').click();
    await expect.element(field).toHaveValue('abc');
    expect(await violations()).toEqual([]);
    await userEvent.fill(field, '20');
    await expect.element(button('Run it')).toBeEnabled();
  });

  test.each([
    ['{ "sweep": 1', 'broken.json', /is not JSON/],
    [
      elsewhere,
      'sweep.json',
      /the plan names the file dusk.json, which is not on this page; expected one of same-frame-tested.bin/,
    ],
    ['{ "sweep": 1, "title": "x", "scenario": {}, "n": 0 }', 'bad.json', /n: found 0, allowed at least 1/],
    ['[]', 'list.json', /the plan is not valid/],
  ])('in an opened plan (%#) is told in words, and the form stays', async (text, name, words) => {
    show();
    await isThere(/cells on the map \(/);
    await userEvent.fill(page.getByLabelText('delay to, ms'), '40');
    await openPlanFile(text, name);
    await expect.element(page.getByRole('alert')).toHaveTextContent(words);
    await expect.element(page.getByRole('alert')).toHaveTextContent(`${name} was not opened`);
    await expect.element(page.getByLabelText('delay to, ms')).toHaveValue('40');
    await expect.element(button('Run it')).toBeEnabled();
    expect(await violations()).toEqual([]);
  });

  test('with the workers is told in words', async () => {
    show();
    await typeSmallPlan();
    const Given = window.Worker;
    // A browser that cannot load the worker, as when the page's files are gone.
    window.Worker = class extends Given {
      constructor() {
        super('/no-such-worker.js', { type: 'module' });
      }
    };
    try {
      await button('Run it').click();
      await isThere('✕ The run has stopped.');
      await isThere(/ended 3 workers, allowed 2/);
    } finally {
      window.Worker = Given;
    }
    expect(await violations()).toEqual([]);
    await button('Run it').click();
    await expect.element(page.getByText('✓ Finished.'), SLOWLY).toBeVisible();
  });

  test('with files that cannot be fetched is told in words', async () => {
    show([{ ...TWO[0]!, scenario: 'http://localhost:1/nothing.json' }]);
    await isThere('✕ The programs could not be fetched');
  });
});

describe('plans', () => {
  test('saved and opened again give the form back; one that is more is run as it is', async () => {
    show();
    await typeSmallPlan();
    const text = await (await saved('Save the plan')).text();
    await userEvent.fill(page.getByLabelText('delay to, ms'), '500');
    await openPlanFile(text, 'lag-map.json');
    await expect.element(page.getByLabelText('delay to, ms')).toHaveValue('80');
    const more = {
      ...JSON.parse(text),
      rooms: {
        dark: { kind: 'constant-light', illuminanceLux: 0 },
        lit: { kind: 'constant-light', illuminanceLux: 50 },
      },
    };
    await openPlanFile(JSON.stringify(more), 'rooms.json');
    await isThere('rooms: dark; lit');
    await isThere(/20 cells on the map \(4 rows, 5 delays\)/);
    expect(await violations()).toEqual([]);
    await button('Put it away and use the form').click();
    await isThere(/10 cells on the map \(2 rows, 5 delays\)/);
  });

  test('of another bench keep its light path until it is let go', async () => {
    const map = show();
    await typeSmallPlan();
    const text = await (await saved('Save the plan')).text();
    map.aim = { x: 100, y: 100 };
    await isThere('x 100, y 100');
    await openPlanFile(text, 'lag-map.json');
    await isThere('Light path and aim are those of the opened plan.');
    await button('Take those of the bench').click();
    await isThere('x 100, y 100');
  });

  test('whoever opens something else is told what it is, by the name of the file', async () => {
    show();
    await isThere(/cells on the map \(/);
    await openPlanFile('{"latelight":1,"cells":[]}', 'map.json');
    await isThere('map.json holds the results of a sweep; expected its plan.');
    await isThere('Open the plan that it was made from; "Save the plan" saves that of the form.');
    await openPlanFile('{', 'broken.json');
    await isThere(/^broken\.json is not JSON: /);
    await expect.element(page.getByLabelText('delay to, ms')).toHaveValue('100');
  });

  test('that are suggested are taken', async () => {
    const map = show();
    await typeSmallPlan();
    const plan = JSON.parse(await (await saved('Save the plan')).text());
    map.plan = { ...plan, delays: { fromMs: 0, toMs: 60, stepMs: 20 } };
    await expect.element(page.getByLabelText('delay to, ms')).toHaveValue('60');
  });

  test('follow the panel of the bench', async () => {
    const map = show();
    await isThere(/cells on the map \(/);
    map.lightPath = { ...FIRST_STATE.lightPath, panel: { ...FIRST_STATE.lightPath.panel, whiteCdM2: 77 } };
    await expect.element(page.getByLabelText('picture tube of the bench')).toBeChecked();
  });
});

test('320 CSS pixels are enough: the map scrolls in its own box, the page does not', async () => {
  await page.viewport(320, 800);
  const map = show();
  await isThere(/cells on the map \(/);
  expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(320);
  const chart = map.shadowRoot!.querySelector('lag-map-chart')!;
  const scroll = chart.shadowRoot!.querySelector<HTMLElement>('.scroll')!;
  await expect.poll(() => scroll.scrollWidth).toBeGreaterThan(500);
  scroll.focus();
  await userEvent.keyboard('{End}');
  await expect.poll(() => scroll.scrollLeft).toBeGreaterThan(200);
  expect(await violations()).toEqual([]);
});
