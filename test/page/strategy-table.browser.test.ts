import axe from 'axe-core';
import { html, render } from 'lit';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import figures from '../../homebrew-demo/lamplighter/strategies/figures.json';
import '../../src/ui/play-bench.ts';
import '../../src/ui/page.css';
import type { PlayBench } from '../../src/ui/play-bench.ts';
import { PROGRAMS } from '../../src/ui/programs.ts';

let bench: PlayBench;
const inner = (selector: string): HTMLElement => bench.shadowRoot!.querySelector(selector)!;
const rows = (): HTMLElement[] => [...bench.shadowRoot!.querySelectorAll<HTMLElement>('.costs tbody tr')];
const textOf = (place: Element): string => place.textContent!.replace(/\s+/g, ' ').trim();

async function show(width: number): Promise<void> {
  await page.viewport(width, 900);
  render(
    html`<main><h1>Latelight</h1><latelight-play></latelight-play></main>`,
    document.body.appendChild(document.createElement('div')),
  );
  bench = document.querySelector('latelight-play')!;
  await bench.updateComplete;
  inner('.costs summary').click();
}

beforeEach(() => localStorage.clear());
afterEach(() => document.body.replaceChildren());

test('every strategy of the demo has its measured figures, what it asks for and where it fails', async () => {
  await show(1200);
  expect(rows().map((row) => textOf(row.querySelector('th')!).replace(/ (Choose it|● on the bench)$/, ''))).toEqual(
    PROGRAMS.map(({ title }) => title),
  );
  const grouped = (value: number): string => String(value).replace(/(\d)(\d{3})$/, '$1 $2');
  for (const [i, { romBytes, ramBytes, handlerCycles, hitsToMs, pictures }] of figures.entries()) {
    const text = textOf(rows()[i]!);
    for (const figure of [`ROM ${grouped(romBytes)}`, `RAM ${ramBytes}`, `handler ${handlerCycles.join(' to ')}`])
      expect(text).toContain(figure);
    expect(text).toContain(`${hitsToMs} ms late`);
    expect(text).toContain(`${pictures} pictures`);
    const [asks, fails] = [...rows()[i]!.querySelectorAll('td')].slice(-2).map(textOf);
    expect(asks!.length).toBeGreaterThan(5);
    expect(fails!.length).toBeGreaterThan(15);
  }
  // 3 frames of 16.6394 ms.
  expect(textOf(rows()[2]!)).toContain('3 pictures after the box is sent: 49.9 ms');
});

test('the strategy on the bench is marked; another is chosen from the table by keys, and the table follows the choice', async () => {
  await show(1200);
  const pressed = () => rows().map((row) => row.querySelector('button')!.getAttribute('aria-pressed') === 'true');
  expect(pressed()).toEqual([false, true, false, false]);
  const button = rows()[3]!.querySelector('button')!;
  button.focus();
  await userEvent.keyboard('{Enter}');
  await bench.updateComplete;
  expect(bench.chosen.strategy).toBe('calibrated');
  expect(pressed()).toEqual([false, false, false, true]);
  expect(bench.shadowRoot!.activeElement).toBe(button);
  await expect.element(page.getByLabelText('strategy of the game')).toHaveValue('calibrated');
  await page.getByLabelText('strategy of the game').selectOptions('fixed delay');
  await bench.updateComplete;
  expect(pressed()).toEqual([false, false, true, false]);
});

test.each([1200, 800, 320])('axe finds nothing and nothing sticks out at %i pixels', async (width) => {
  await show(width);
  const found = await axe.run(document.body, { rules: { 'target-size': { enabled: true } } });
  expect(found.violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target).join(' ')}`)).toEqual([]);
  expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(width);
  const costs = inner('.costs');
  expect(costs.scrollWidth).toBeLessThanOrEqual(costs.clientWidth);
});
