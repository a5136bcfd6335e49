import axe from 'axe-core';
import { afterEach, describe, expect, test } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import '../../src/ui/flash-report.ts';
import '../../src/ui/page.css';
import type { FlashReport } from '../../src/ui/flash-report.ts';
import type { FlashFinding, FlashPicture, FlashStream } from '../../src/workers/flash-check.api.ts';

const still = (timeS: number, level: number): FlashPicture => ({
  timeS,
  width: 64,
  height: 60,
  rgba: new Uint8ClampedArray(64 * 60 * 4).fill(255).map((_, at) => (at % 4 === 3 ? 255 : level)),
});

const count = (changes: number, rule: string) => ({
  rule,
  changes,
  limit: 6,
  isAbove: changes > 6,
  timeS: 2.512,
  where: 'dots 0 to 119, lines 0 to 87',
  areaPercent: '100',
});

const finding = (changes: number): FlashFinding => ({
  profile: 'wcag-a',
  title: 'three flashes or below threshold',
  source: 'W3C, WCAG 2.2 (12/2024), SC 2.3.1, and technique G176',
  passes: changes <= 6,
  counts: changes === 0 ? [] : [count(changes, 'general, at one place'), count(2, 'red, over the field')],
  scenes: [
    { fromS: 0.02, toS: 1.5, passes: true, worst: null },
    { fromS: 1.5, toS: 4, passes: changes <= 6, worst: changes === 0 ? null : count(changes, 'general, at one place') },
  ],
  pictures: changes === 0 ? [] : [0, 255, 0, 255].map((level, i) => still(2 + i / 60, level)),
  left: changes === 0 ? 0 : 3,
});

const GAME: FlashStream = {
  stream: 'The game',
  watched: '4.0 s from power-on, shown at 3 CSS pixels a line',
  findings: [finding(21)],
  care: ['Flashes go on for 7.0 s.'],
  advice: ['Leave more time between shots.'],
};
const PAGE: FlashStream = {
  stream: 'This page',
  watched: '4.0 s, 240 pictures',
  findings: [finding(0)],
  care: [],
  advice: [],
};

async function show(streams: readonly FlashStream[], width: number): Promise<FlashReport> {
  await page.viewport(width, 900);
  document.body.innerHTML = '<main><h1>Latelight</h1><h2>Flash check</h2></main>';
  const report = document.createElement('flash-report');
  report.streams = streams;
  document.querySelector('main')!.append(report);
  await report.updateComplete;
  return report;
}

const textOf = (report: FlashReport): string => report.shadowRoot!.textContent!.replace(/\s+/g, ' ');

afterEach(() => document.body.replaceChildren());

describe('flash report', () => {
  test('each stream has a verdict with a sign and words, its scenes, and what to change', async () => {
    const report = await show([GAME, PAGE], 900);
    const [game, own] = [...report.shadowRoot!.querySelectorAll('section')];
    expect(game!.querySelector('.verdict')!.textContent).toBe('✕ Above a published limit');
    expect(own!.querySelector('.verdict')!.textContent).toBe('✓ Below the published limits');
    expect(game!.textContent).toMatch(/21 opposing changes, the limit is 6/);
    expect(game!.textContent).toMatch(/Rule: general, at one place/);
    expect(game!.textContent).toMatch(/What to change/);
    expect(own!.textContent).not.toMatch(/What to change/);
    const scenes = [...game!.querySelectorAll('.finding > .table tbody tr')].map((row) =>
      [...row.querySelectorAll('td')].map((cell) => cell.textContent),
    );
    expect(scenes).toEqual([
      ['1: 0.020 to 1.500 s', '✓ below', '0', 'nothing flashes', '', ''],
      ['2: 1.500 to 4.000 s', '✕ above', '21', 'general, at one place', '2.512 s', '100 %'],
    ]);
  });

  test('it says that it is no medical guarantee, gives the caution and the editions', async () => {
    const text = textOf(await show([GAME], 900));
    expect(text).toMatch(/not a medical guarantee/);
    expect(text).toMatch(/stop, look away and get help/);
    expect(text).toMatch(/WCAG 2\.2 \(12\/2024\)/);
  });

  test('pictures are painted still, with words for who does not see them', async () => {
    const report = await show([GAME, PAGE], 900);
    await userEvent.click(page.getByText(/Pictures of the worst second: 4, still; 3 more/));
    const canvases = [...report.shadowRoot!.querySelectorAll('canvas')];
    const middles = canvases.map((canvas) => canvas.getContext('2d')!.getImageData(32, 30, 1, 1).data[0]);
    expect(middles).toEqual([0, 255, 0, 255]);
    expect(canvases.map((canvas) => canvas.getAttribute('aria-label'))[1]).toBe(
      'Picture at 2.017 s, mean level 100 % of white',
    );
    expect(canvases[0]!.getBoundingClientRect().width).toBeLessThanOrEqual(98);
  });

  test.each([900, 320])('axe finds nothing and nothing sticks out at %i pixels, all of it opened', async (width) => {
    const report = await show([GAME, PAGE], width);
    for (const details of report.shadowRoot!.querySelectorAll('details')) details.open = true;
    const found = await axe.run(document.body, { rules: { 'target-size': { enabled: true } } });
    expect(found.violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target).join(' ')}`)).toEqual(
      [],
    );
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(width);
  });

  test('the keyboard reaches what opens and what scrolls', async () => {
    const report = await show([GAME], 320);
    const reached = new Set<string>();
    for (let k = 0; k < 6; k++) {
      await userEvent.keyboard('{Tab}');
      reached.add(report.shadowRoot!.activeElement?.className || report.shadowRoot!.activeElement?.tagName || '');
    }
    expect([...reached]).toEqual(expect.arrayContaining(['table', 'SUMMARY']));
  });

  test('before anything is watched and while it is, it says so', async () => {
    const report = await show([], 900);
    expect(textOf(report)).toMatch(/Nothing has been watched yet/);
    report.busy = 'Watching First Light';
    await report.updateComplete;
    expect(report.shadowRoot!.querySelector('[role=status]')!.textContent).toMatch(/Watching First Light/);
  });
});

// axe has no rule for flashing, and leaves sizes of targets out unless asked. Source: axe-core 4.14.1, its rule list.
test('axe checks no flashing (rules tagged wcag231: 0), and target-size only where asked', async () => {
  expect(axe.getRules(['wcag231'])).toEqual([]);
  document.body.innerHTML =
    '<button style="width:10px;height:10px"></button><button style="width:10px;height:10px"></button>';
  const ids = (found: axe.AxeResults) =>
    [...found.violations, ...found.incomplete, ...found.passes].map(({ id }) => id);
  expect(ids(await axe.run(document.body))).not.toContain('target-size');
  expect(ids(await axe.run(document.body, { rules: { 'target-size': { enabled: true } } }))).toContain('target-size');
});
