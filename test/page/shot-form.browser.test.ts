import axe from 'axe-core';
import { html, render } from 'lit';
import { beforeEach, expect, test } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import '../../src/ui/shot-form.ts';

beforeEach(() => render(html`<main><h1>Latelight</h1><latelight-shot></latelight-shot></main>`, document.body));

const status = () => page.getByRole('status');

test('an LCD 50 ms late is missed, the tube is hit', async () => {
  await page.getByRole('button', { name: 'Pull the trigger' }).click();
  await expect.element(status(), { timeout: 20_000 }).toHaveTextContent(/✕ miss/);
  await expect.element(status()).toHaveTextContent(/too early/);
  await page.getByLabelText('panel').selectOptions('tube');
  await userEvent.fill(page.getByLabelText(/delay/), '0');
  await page.getByRole('button', { name: 'Pull the trigger' }).click();
  await expect.element(status(), { timeout: 20_000 }).toHaveTextContent(/✓ hit/);
});

test.each(['-3', '501', 'late', ''])('the delay "%s" is refused in words and stays in its field', async (delay) => {
  await userEvent.fill(page.getByLabelText(/delay/), delay);
  await page.getByRole('button', { name: 'Pull the trigger' }).click();
  await expect.element(status(), { timeout: 20_000 }).toHaveTextContent(/not run.*expected|not run.*allowed/);
  await expect.element(page.getByLabelText(/delay/)).toHaveValue(delay);
});

test('axe finds nothing', async () => {
  await document.querySelector('latelight-shot')?.updateComplete;
  const { violations } = await axe.run(document.body);
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target).join(' ')}`)).toEqual([]);
});
