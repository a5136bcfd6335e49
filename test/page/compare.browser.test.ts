import axe from 'axe-core';
import { html, render } from 'lit';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import '../../src/ui/play-bench.ts';
import '../../src/ui/page.css';
import { FIRST_MINUTE } from '../../src/ui/bench/first-minute-steps.ts';
import type { PlayBench } from '../../src/ui/play-bench.ts';
import type { TimeRuler } from '../../src/ui/time-ruler.ts';

let bench: PlayBench;
const inner = (selector: string): HTMLElement => bench.shadowRoot!.querySelector(selector)!;
const comparison = (): HTMLElement => inner('shot-comparison');
const compared = (selector: string): HTMLElement => comparison().shadowRoot!.querySelector(selector)!;
const rulers = (): TimeRuler[] => [...comparison().shadowRoot!.querySelectorAll('time-ruler')];
const textOf = (place: Element | ShadowRoot): string => place.textContent!.replace(/\s+/g, ' ').trim();
/** What is said to differ, as what, kept and now. */
const differences = (): string[][] =>
  [...comparison().shadowRoot!.querySelectorAll('.differences div')].map((row) => [...row.children].map(textOf));
const button = (name: string | RegExp) => page.getByRole('button', { name });
const [onTube, onLcd, calibrated] = FIRST_MINUTE.map(({ state }) => state);

/** Play one shot with what stands on the bench. */
const shoot = async (state = onTube!): Promise<void> => {
  await bench.open(state, true);
  await settled();
};

/** Until what is wanted is drawn. */
async function settled(): Promise<void> {
  for (let k = 0; k < 3; k++) await new Promise(requestAnimationFrame);
  await bench.updateComplete;
}

const keep = async (): Promise<void> => {
  await button('Keep this shot for comparison').click();
  await settled();
};

/** Two shots at one lamp: of the strategy that looks at once, and of the one that was calibrated. */
async function compareStrategies(): Promise<void> {
  await shoot(onLcd);
  await keep();
  await shoot(calibrated);
}

async function violations(): Promise<string[]> {
  const found = await axe.run(document.body, { rules: { 'target-size': { enabled: true } } });
  return found.violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target).join(' ')}`);
}

beforeEach(async () => {
  localStorage.clear();
  await page.viewport(1200, 900);
  render(
    html`<main><h1>Latelight</h1><latelight-play></latelight-play></main>`,
    document.body.appendChild(document.createElement('div')),
  );
  bench = document.querySelector('latelight-play')!;
  await button('Skip it').click();
});
afterEach(() => {
  vi.restoreAllMocks();
  document.body.replaceChildren();
  localStorage.clear();
});

describe('two strategies through one light path', () => {
  test('what differs is named, each ruler says which shot it is, the table has the instants of both', async () => {
    await compareStrategies();
    expect(differences()).toEqual([['strategy', 'same frame, tested dark → then calibrated']]);
    const captions = [...comparison().shadowRoot!.querySelectorAll('.caption p')].map(textOf);
    expect(captions).toEqual([
      'Shot 1, kept: ✕ miss same frame, tested dark, LCD, 50 ms late, wide-band sensor with baseline',
      'Shot 2, now: ✓ hit calibrated, LCD, 50 ms late, wide-band sensor with baseline',
    ]);
    const [kept, now] = rulers();
    const rows = [...comparison().shadowRoot!.querySelectorAll('tbody tr')].map((row) =>
      [...row.children].map((cell) => cell.textContent!.trim()),
    );
    expect(rows.map(([title]) => title)).toEqual(now!.marks.map(({ title }) => title));
    for (const [title, keptText, nowText, difference] of rows) {
      const ms = (ruler: TimeRuler): number => ruler.marks.find((mark) => mark.title === title)!.ms;
      expect([keptText, nowText]).toEqual([ms(kept!).toFixed(3), ms(now!).toFixed(3)]);
      const laterMs = ms(now!) - ms(kept!);
      const expected =
        Math.abs(laterMs) < 0.0005
          ? 'the same'
          : `${Math.abs(laterMs).toFixed(3)} ${laterMs > 0 ? 'later' : 'earlier'}`;
      expect([title, difference]).toEqual([title, expected]);
    }
    expect(rows.at(-1)![3]).toMatch(/^1\d\.\d{3} later$/); // black pictures more, before the box
  });

  test('zoom, view and both cursors go together, whichever ruler is moved, the triggers at one place', async () => {
    await compareStrategies();
    const [kept, now] = rulers();
    expect(kept!.view).toEqual(now!.view);
    const whole = now!.view!;
    expect(whole.toMs).toBeGreaterThan(now!.marks.at(-1)!.ms);
    const press = async (ruler: TimeRuler, keys: string): Promise<void> => {
      ruler.shadowRoot!.querySelector<HTMLElement>('.plot')!.focus();
      await userEvent.keyboard(keys);
      await settled();
    };
    await press(kept!, 'h{+}{+}');
    expect(kept!.view).toEqual(now!.view);
    expect(now!.view!.toMs - now!.view!.fromMs).toBeCloseTo(0.64 * (whole.toMs - whole.fromMs), 6);
    await press(now!, 'm{Shift>}{ArrowRight}{/Shift}{Shift>}{ArrowRight}{/Shift}');
    const said = [kept!, now!].map((ruler) => textOf(ruler.shadowRoot!.querySelector('.readout')!));
    const measured = said.map((text) => /measured ?([\d.]+ ms)/.exec(text)?.[1]);
    expect(measured[0]).toMatch(/^\d/);
    expect(measured[0]).toBe(measured[1]);
    expect(said[0]).toMatch(/frame ?\d+.*scanline ?\d+/);
    expect(said[0]).not.toBe(said[1]); // each console stood elsewhere
    await press(now!, '{Escape}{Escape}0');
    expect(kept!.view).toEqual(now!.view);
    expect(textOf(kept!.shadowRoot!.querySelector('.readout')!)).not.toMatch(/measured/);
  });

  test('a closer look at either has finer curves of its own', async () => {
    await compareStrategies();
    const [kept, now] = rulers();
    const flash = now!.marks.find(({ name }) => name === 'crossing')!.ms;
    kept!.show({ fromMs: flash - 1, toMs: flash + 1 });
    for (const ruler of [kept!, now!]) {
      const seen = () => ruler.detail && [ruler.detail.fromMs - flash, ruler.detail.toMs - flash];
      await expect.poll(seen, { timeout: 10_000 }).toEqual([expect.closeTo(-2, 3), expect.closeTo(2, 3)]);
      expect(ruler.detail!.threshold.length).toBeGreaterThan(700);
    }
    // At that time the light of the one comes; the other's flash lay elsewhere in its frame.
    const { light } = now!.detail!;
    expect(light.at(-1)!).toBeGreaterThan(1.5 * light[1]!);
    expect(kept!.detail!.light).not.toEqual(light);
  });

  test('each is saved as files of its own name, and holds its own lanes', async () => {
    await compareStrategies();
    const names: string[] = [];
    vi.spyOn(HTMLAnchorElement.prototype, 'click').mockImplementation(function (this: HTMLAnchorElement) {
      names.push(this.download);
    });
    for (const ruler of rulers()) ruler.shadowRoot!.querySelector<HTMLElement>('[aria-label="save as SVG"]')!.click();
    await expect.poll(() => names.toSorted()).toEqual(['shot-1.svg', 'shot-2.svg']);
    const texts = await Promise.all(rulers().map(async (ruler) => (await ruler.fileOf('SVG'))!.text()));
    expect(texts[0]).toMatch(/>none</);
    expect(texts[1]).toMatch(/>target 0</);
    const pngs = await Promise.all(rulers().map((ruler) => ruler.fileOf('PNG')));
    expect(pngs.map((png) => png!.type)).toEqual(['image/png', 'image/png']);
  });
});

test('two light paths under one strategy: stages and panel are named', async () => {
  await shoot();
  await keep();
  await shoot(onLcd);
  expect(differences()).toEqual([
    ['stages', 'none → then pure delay 50 ms'],
    ['panel', 'picture tube → then LCD'],
  ]);
});

test('while nothing is shot with what is chosen the kept shot stays; it can be let go, and the new one kept instead', async () => {
  await shoot(onLcd);
  await keep();
  expect(document.activeElement).toBe(bench);
  expect(bench.shadowRoot!.activeElement).toBe(comparison());
  expect(textOf(compared('h2'))).toBe('Kept for comparison');
  await page.getByLabelText('strategy of the game').selectOptions('calibrated');
  await settled();
  expect(rulers().length).toBe(1);
  expect(textOf(inner('.answer'))).toBe('');
  await shoot(calibrated);
  expect(rulers().map(({ number }) => number)).toEqual([1, 2]);
  await button('Keep this one instead').click();
  await settled();
  expect(rulers().map(({ number }) => number)).toEqual([2]);
  await button('Let it go').click();
  await settled();
  expect(comparison()).toBe(null);
  expect(bench.shadowRoot!.activeElement).toBe(inner('#keep-shot'));
});

test('an earlier shot of the log can be kept; one that the worker no longer has is drawn as it was, and says so', async () => {
  await shoot(onLcd);
  for (let k = 0; k < 5; k++) await shoot();
  await button('Keep for comparison: shot 3').click();
  await settled();
  expect(rulers().map(({ number }) => number)).toEqual([3, 6]);
  expect(textOf(comparison().shadowRoot!)).toMatch(/Both were shot with the same set-up, at the same aim/);
  const around = { fromMs: 60, toMs: 61 };
  rulers()[0]!.show(around);
  await expect.poll(() => rulers()[0]!.detail?.fromMs, { timeout: 10_000 }).toBeCloseTo(59.5, 3);
  await button('Keep for comparison: shot 1').click();
  await settled();
  rulers()[0]!.show(around);
  await expect
    .poll(() => textOf(comparison().shadowRoot!))
    .toMatch(/Shot 1 was made too long ago to be looked at closer/);
  expect(differences()[0]).toEqual(['stages', 'pure delay 50 ms → then none']);
  expect(rulers()[1]!.detail).not.toBe(undefined);
});

test.each([1200, 320])('axe finds nothing and nothing sticks out at %i pixels, all of it opened', async (width) => {
  await page.viewport(width, 900);
  await shoot(onLcd);
  await keep();
  expect(await violations()).toEqual([]);
  await shoot(calibrated);
  for (const ruler of rulers()) ruler.shadowRoot!.querySelector('details')!.open = true;
  rulers()[0]!.holdAt(20);
  await settled();
  expect(await violations()).toEqual([]);
  expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(width);
  const table = compared('.table');
  expect(table.scrollWidth).toBeLessThanOrEqual(table.clientWidth);
});
