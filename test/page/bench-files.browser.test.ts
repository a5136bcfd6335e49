import axe from 'axe-core';
import { html, render } from 'lit';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import '../../src/ui/play-bench.ts';
import '../../src/ui/page.css';
import { type BenchState, benchFileText, FIRST_STATE } from '../../src/ui/bench/bench-state.ts';
import { specsFor, standardSetting, withStage } from '../../src/ui/bench/light-edits.ts';

const LATE: BenchState = {
  strategy: 'calibrated',
  aim: { x: 132, y: 120 },
  lightPath: withStage(FIRST_STATE.lightPath, 0, standardSetting(specsFor('stages')[0]!)),
};

beforeEach(async () => {
  render(
    html`<main><h1>Latelight</h1><latelight-play></latelight-play></main>`,
    document.body.appendChild(document.createElement('div')),
  );
  await bench().updateComplete;
});
afterEach(() => {
  vi.restoreAllMocks();
  document.body.replaceChildren();
});

const bench = () => document.querySelector('latelight-play')!;
const button = (name: string) => page.getByRole('button', { name, exact: true });

async function choose(text: string, name = 'bench.json'): Promise<void> {
  const input = bench()
    .shadowRoot!.querySelector('bench-files')!
    .shadowRoot!.querySelector<HTMLInputElement>('input[type="file"]')!;
  await userEvent.upload(input, new File([text], name, { type: 'application/json' }));
}

test('a bench is saved, changed, and opened again in one step of the light path', async () => {
  bench().open(LATE, false);
  const files: Blob[] = [];
  vi.spyOn(URL, 'createObjectURL').mockImplementation((file) => {
    files.push(file as Blob);
    return 'data:,';
  });
  await button('Save the bench').click();
  await expect.poll(() => files.length).toBe(1);
  const text = await files[0]!.text();
  expect(text).toBe(benchFileText(LATE));

  bench().open(FIRST_STATE, false);
  await choose(text);
  await expect.poll(() => bench().chosen).toEqual(LATE);
  await button('Undo').click();
  await expect.poll(() => bench().chosen.lightPath).toEqual(FIRST_STATE.lightPath);
  await button('Redo').click();
  await expect.poll(() => bench().chosen).toEqual(LATE);
});

test.each([
  ['{"bench": 1', /"bench.json" was not opened: the file is not JSON/],
  [benchFileText({ ...LATE, strategy: 'none' }), /strategy: found "none", expected same-frame-untested or/],
  [
    benchFileText(LATE).replace('"pure-delay"', '"pure-delay", "delayMs": 900'),
    /lightPath\.stages\.0\.delayMs: found 900, allowed 0 to 500 ms/,
  ],
  [' '.repeat(2 ** 20 + 1), /"bench.json" has 1048577 bytes, expected at most 1048576/],
])('the file %# is refused in words, and the bench stands', async (text, message) => {
  bench().open(LATE, false);
  await choose(text);
  await expect.element(page.getByRole('alert')).toHaveTextContent(message);
  await expect.element(page.getByRole('alert')).toHaveTextContent('The bench stands as it was.');
  expect(bench().chosen).toEqual(LATE);
  const found = await axe.run(document.body, { rules: { 'target-size': { enabled: true } } });
  expect(found.violations.map(({ id }) => id)).toEqual([]);
  await choose(benchFileText(FIRST_STATE));
  await expect.poll(() => bench().chosen).toEqual(FIRST_STATE);
  expect(page.getByRole('alert').elements()).toEqual([]);
});
