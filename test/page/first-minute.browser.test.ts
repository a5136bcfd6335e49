import axe from 'axe-core';
import { html, render } from 'lit';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import '../../src/ui/play-bench.ts';
import '../../src/ui/page.css';
import { PAGE_RECORD } from '../../src/ui/page-record.ts';

async function show(): Promise<void> {
  render(
    html`<main><h1>Latelight</h1><latelight-play></latelight-play></main>`,
    document.body.appendChild(document.createElement('div')),
  );
  await document.querySelector('latelight-play')!.updateComplete;
}

/** The page is loaded again: all but the browser's storage is gone. */
const reload = (): Promise<void> => {
  document.body.replaceChildren();
  return show();
};

beforeEach(async () => {
  localStorage.clear();
  await page.viewport(1200, 900);
  await show();
});
afterEach(() => {
  document.body.replaceChildren();
  localStorage.clear();
});

const bench = (): HTMLElement => document.querySelector('latelight-play')!;
const inner = (selector: string): HTMLElement => bench().shadowRoot!.querySelector(selector)!;
const textOf = (selector: string): string => inner(selector).textContent!.replace(/\s+/g, ' ').trim();
const button = (name: string | RegExp) => page.getByRole('button', { name });
const says = (words: RegExp) => expect.poll(() => textOf('.minute-words'), { timeout: 60_000 }).toMatch(words);
const title = page.getByRole('heading', { name: 'The first minute' });

async function violations(): Promise<string[]> {
  const found = await axe.run(document.body, { rules: { 'target-size': { enabled: true } } });
  return found.violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target).join(' ')}`);
}

describe('three presses of one button', () => {
  test('show a hit on the tube, a miss that is late with its cause, and a hit where the screen was measured', async () => {
    expect(inner('.minute-words').querySelectorAll('p').length).toBe(3);
    inner('.minute-step').focus();
    await userEvent.keyboard('{Enter}');
    await says(/^Shot 1 of 3: ✓ hit\. The tube lit up [\d.]+ µs after/);
    expect(textOf('.answer')).toMatch(/^✓ hit same frame, tested dark, picture tube/);
    expect(inner('time-ruler').shadowRoot!.querySelector('canvas')).not.toBe(null);
    await userEvent.keyboard('{Enter}');
    await says(/^Shot 2 of 3: ✕ miss\. Same game, same aim\. The light came 5\d\.\d ms after/);
    expect(textOf('.answer')).toMatch(/^✕ miss .*50\.0 ms of that because the picture is late.*Proved/);
    expect(inner('time-ruler').shadowRoot!.querySelector('canvas')).not.toBe(null);
    await userEvent.keyboard('{Enter}');
    await says(
      /^Shot 3 of 3: ✓ hit\. The LCD of the second shot: the light came 5\d\.\d ms after.*That was the first minute\./,
    );
    expect(textOf('.answer')).toMatch(/^✓ hit calibrated, LCD, 50 ms late/);
    expect([...bench().shadowRoot!.querySelectorAll('.minute-steps li')].map((li) => li.className)).toEqual(
      Array(3).fill('seen'),
    );
    await userEvent.keyboard('{Enter}');
    await expect.element(title).not.toBeInTheDocument();
    expect(bench().shadowRoot!.activeElement).toBe(inner('#first-minute-again'));
    expect(textOf('.answer')).toMatch(/^✓ hit calibrated/); // what was seen is not taken away
  });

  test('come before the caution: no picture is drawn, nothing moves, the caution stands as it was', async () => {
    const pictures = async () => (await PAGE_RECORD.report()).watched;
    const before = await pictures();
    for (const shot of [1, 2, 3]) {
      inner('.minute-step').click();
      await says(new RegExp(`^Shot ${shot} of 3`));
      expect(bench().shadowRoot!.querySelector('bench-picture')).toBe(null);
      expect(document.getAnimations()).toEqual([]);
    }
    inner('time-ruler').shadowRoot!.querySelector<HTMLElement>('.plot')!.focus();
    await userEvent.keyboard('h');
    await new Promise((done) => setTimeout(done, 300));
    expect(await pictures()).toEqual(before);
    await expect.element(page.getByRole('heading', { name: 'Before anything moves' })).toBeVisible();
    expect(bench().dataset['frames']).toBe(undefined); // no frame of a live game has run
  });
});

describe('it is never in the way', () => {
  test('skipped at once it stays away, also after a reload, and a quiet link brings it back', async () => {
    await button('Skip it').click();
    await expect.element(title).not.toBeInTheDocument();
    await reload();
    await expect.element(button(/^The first minute: three shots/)).toBeVisible();
    await expect.element(title).not.toBeInTheDocument();
    await button(/^The first minute: three shots/).click();
    await expect.element(title).toBeVisible();
    expect(bench().shadowRoot!.activeElement).toBe(inner('.minute-step'));
  });

  test('left behind a step it goes on there, after a reload and from the link, and can be begun again', async () => {
    inner('.minute-step').click();
    await says(/^Shot 1 of 3: ✓ hit/);
    await reload();
    await says(/^Shot 1 of 3: ✓ hit\. That was before this visit/);
    await button('Skip it').click();
    await button('Carry on with the first minute, shot 2 of 3').click();
    inner('.minute-step').click();
    await says(/^Shot 2 of 3: ✕ miss/);
    await button('Begin again').click();
    await says(/^A light-gun game finds your aim by light/);
    expect(bench().shadowRoot!.querySelectorAll('.minute-steps .seen').length).toBe(0);
  });

  test('play puts it away, and it plays its shots while the game is paused', async () => {
    await button(/I have read this/).click();
    await expect.element(button('Pause')).toBeVisible();
    await expect.element(title).not.toBeInTheDocument();
    await button(/^The first minute: three shots/).click();
    inner('.minute-step').click();
    await says(/^Shot 1 of 3: ✓ hit/);
    await expect.element(button('Go on')).toBeVisible();
    inner('.minute-step').click();
    await says(/^Shot 2 of 3: ✕ miss/);
    inner('.minute-step').click();
    await says(/^Shot 3 of 3: ✓ hit/);
    await button('Go on').click();
    await expect.element(title).not.toBeInTheDocument();
    await expect.element(button('Pause')).toBeVisible();
    await button(/^The first minute, once more/).click();
    await says(/^A light-gun game finds your aim by light/);
  });

  test('a shot that cannot be played says so, and the step can be taken again', async () => {
    const { fetch } = window;
    window.fetch = () => Promise.reject(new TypeError('Failed to fetch'));
    // A page that has fetched nothing yet.
    await reload();
    await says(/^A light-gun/);
    inner('.minute-step').click();
    await says(/^This shot could not be played/);
    window.fetch = fetch;
    expect(textOf('.answer')).toMatch(/not possible/);
    inner('.minute-step').click();
    await says(/^Shot 1 of 3: ✓ hit/);
  });
});

test.each([1200, 320])(
  'axe finds nothing and nothing sticks out at %i pixels, before and behind each shot',
  async (width) => {
    await page.viewport(width, 900);
    for (const words of [/^A light-gun/, /^Shot 1/, /^Shot 2/, /^Shot 3/]) {
      await says(words);
      expect(await violations()).toEqual([]);
      expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(width);
      inner('.minute-step').click();
    }
    await expect.element(title).not.toBeInTheDocument();
    expect(await violations()).toEqual([]);
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(width);
  },
);
