import axe from 'axe-core';
import { html, render } from 'lit';
import { beforeEach, describe, expect, test, vi } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import '../../src/ui/play-bench.ts';
import '../../src/ui/page.css';

const show = () =>
  render(
    html`<main><h1>Latelight</h1><latelight-play></latelight-play></main>`,
    document.body.appendChild(document.createElement('div')),
  );
beforeEach(() => void show());
beforeEach(() => () => document.body.replaceChildren());

const begin = () => page.getByRole('button', { name: /I have read this/ }).click();

async function violations(): Promise<string[]> {
  const found = await axe.run(document.body, { rules: { 'target-size': { enabled: true } } });
  return found.violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target).join(' ')}`);
}

describe('axe finds nothing', () => {
  test('at the caution', async () => {
    await document.querySelector('latelight-play')?.updateComplete;
    expect(await violations()).toEqual([]);
  });

  test('while it runs, and paused', async () => {
    await begin();
    await expect.element(page.getByRole('button', { name: 'Pause' })).toBeVisible();
    expect(await violations()).toEqual([]);
    await userEvent.keyboard('{Escape}');
    await expect.element(page.getByRole('button', { name: 'Go on' })).toBeVisible();
    expect(await violations()).toEqual([]);
  });
});

test('what the light did stays where the proved cause is of something else, and is said once where it is of the light', async () => {
  const bench = document.querySelector('latelight-play')!;
  const told = () => bench.shadowRoot!.querySelector('.answer')!.textContent!;
  await bench.open({ ...bench.chosen, aim: { x: 40, y: 36 } }, true);
  await expect.poll(told, { timeout: 60_000 }).toMatch(/The aim was 12\.0 dots off/);
  expect(told()).toMatch(/Light from this flash crossed the threshold .* the program read it/);
  const lightPath = {
    ...bench.chosen.lightPath,
    stages: [{ kind: 'pure-delay', delayMs: 50 }],
    panel: { kind: 'lcd' },
  };
  await bench.open({ ...bench.chosen, lightPath, aim: { x: 52, y: 36 } }, true);
  await expect.poll(told, { timeout: 60_000 }).toMatch(/because the picture is late/);
  expect(told().match(/Light from this flash crossed/g)).toHaveLength(1);
});

describe('what is loaded while the caution is read', () => {
  const starts: unknown[] = [];
  beforeEach(() => {
    starts.length = 0;
    const { postMessage } = Worker.prototype;
    const posted = vi.spyOn(Worker.prototype, 'postMessage');
    posted.mockImplementation(function (this: Worker, ...message: unknown[]) {
      const [{ path }] = message as [{ path?: readonly string[] }];
      if (path?.join() === 'start') starts.push(message);
      postMessage.apply(this, message as Parameters<typeof postMessage>);
    });
    return () => posted.mockRestore();
  });
  const runs = () =>
    expect.poll(() => Number(document.querySelector('latelight-play')?.dataset['frames'])).toBeGreaterThan(5);

  test('is what play begins with', async () => {
    await expect.poll(() => starts.length).toBe(1);
    await begin();
    await runs();
    expect(starts).toHaveLength(1);
  });

  test('is loaded anew where something else was chosen, or a shot was rehearsed, before play begins', async () => {
    await expect.poll(() => starts.length).toBe(1);
    await page.getByRole('button', { name: 'Shoot once' }).click();
    await expect.element(page.getByText(/^✓ hit/).first()).toBeVisible();
    await begin();
    await runs();
    expect(starts).toHaveLength(2);
  });

  /** On a page anew whose first program is fetched slowly. */
  async function withSlowFiles(act: () => Promise<void>): Promise<void> {
    await expect.poll(() => starts.length).toBe(1);
    const { fetch } = window;
    window.fetch = async (...asked) => {
      const answer = await fetch(...asked);
      if (String(asked[0]).includes('same-frame-tested')) await new Promise((done) => setTimeout(done, 3000));
      return answer;
    };
    try {
      document.body.replaceChildren();
      starts.length = 0;
      show();
      await act();
      await runs();
      await new Promise((done) => setTimeout(done, 3500));
    } finally {
      window.fetch = fetch;
    }
  }
  const chooseCalibrated = () => page.getByLabelText('strategy of the game').selectOptions('calibrated');

  test('does not come after another program that was chosen and begun while its files were under way', async () => {
    await withSlowFiles(async () => {
      await chooseCalibrated();
      await page.getByRole('button', { name: 'Shoot once' }).click();
      await begin();
    });
    expect(starts).toHaveLength(1);
  });

  test('gives way to another program that is chosen while the first one is being fetched for play', async () => {
    await withSlowFiles(async () => {
      await begin();
      await chooseCalibrated();
    });
    expect(starts).toHaveLength(1);
  });
});

test.each(['-3', '501', 'late', ''])('the delay "%s" is refused in words and stays in its field', async (delay) => {
  await page.getByRole('button', { name: /^console/ }).click();
  await page.getByRole('button', { name: 'Add a pure delay behind it' }).click();
  const field = page.getByLabelText(/^delay, 0 to 500 ms/);
  await userEvent.fill(field, delay);
  await expect.element(page.getByText(`found "${delay}", expected 0 to 500 ms. It stays`)).toBeVisible();
  await expect.element(field).toHaveValue(delay);
  await expect.element(field).toHaveAttribute('aria-invalid', 'true');
  expect(await violations()).toEqual([]);
  await userEvent.fill(field, '33,5');
  await expect.element(field).toHaveAttribute('aria-invalid', 'false');
});

test('the keyboard goes along with a stage that is added, moved or taken out; keys take steps back and forth', async () => {
  const button = (name: string | RegExp) => page.getByRole('button', { name });
  const focused = () => {
    let at = document.activeElement;
    while (at?.shadowRoot?.activeElement) at = at.shadowRoot.activeElement;
    return at?.querySelector('.title')?.textContent ?? at?.textContent?.trim();
  };
  const stages = () =>
    document.querySelector('latelight-play')!.chosen.lightPath.stages.map(({ kind, delayMs }) => delayMs ?? kind);
  await button(/^console/).click();
  await button('Add a pure delay behind it').click();
  await expect.poll(focused).toBe('pure delay');
  await userEvent.fill(page.getByLabelText(/^delay, 0 to 500 ms/), '40');
  await expect.poll(stages).toEqual([40]);
  await button('Add a pure delay behind it').click();
  await expect.poll(focused).toBe('pure delay');
  expect(stages()).toEqual([40, 32]);
  await button('One place earlier').click();
  await expect.poll(stages).toEqual([32, 40]);
  await expect.poll(focused).toBe('pure delay');
  await button('Take this stage out').click();
  await expect.poll(focused).toBe('console');
  expect(stages()).toEqual([40]);
  await userEvent.keyboard('{Control>}z{/Control}');
  await expect.poll(stages).toEqual([32, 40]);
  await userEvent.keyboard('{Control>}zz{/Control}');
  await expect.poll(stages).toEqual([40]);
  await userEvent.keyboard('{Control>}y{Shift>}z{/Shift}{/Control}');
  await expect.poll(stages).toEqual([32, 40]);
  for (let left = 4; left > 0; left--) await button('Undo').click();
  await expect.poll(stages).toEqual([]);
  await expect.element(button('Undo')).toBeDisabled();
  expect(focused()).toBe('Undo');
});

const flashes = () => page.getByRole('combobox', { name: /^flashes/ });
const chooseFull = () => flashes().selectOptions('shown in full, small');
const gate = () => page.getByRole('alertdialog', { name: 'Before flashes are shown in full' });
const allowFull = () => page.getByRole('button', { name: 'Show them, small' }).click();
const keepOut = () => page.getByRole('button', { name: 'Leave the flashes out' });
const picturesOnPage = () =>
  document.querySelector('latelight-play')!.shadowRoot!.querySelectorAll('bench-picture').length;

describe('before the first full flashes', () => {
  const focused = () => {
    let at = document.activeElement;
    while (at?.shadowRoot?.activeElement) at = at.shadowRoot.activeElement;
    return at;
  };
  const framesRun = () => Number(document.querySelector('latelight-play')!.dataset['frames'] ?? 0);
  const wait = () => new Promise((done) => setTimeout(done, 400));
  const isPlaying = () => expect.element(page.getByRole('button', { name: 'Pause' })).toBeVisible();

  test('somebody is asked, nothing moves meanwhile and the choice is what it was; "no" has the keyboard', async () => {
    await begin();
    await isPlaying();
    await flashes().selectOptions('dimmed greys that cannot flash');
    (flashes().element() as HTMLElement).focus();
    await chooseFull();
    await expect.element(gate()).toBeVisible();
    await expect.poll(focused).toBe(keepOut().element());
    for (const words of [
      /up to 60 pictures a second/,
      /144 by 135/,
      /press Escape or the button Pause/,
      /look away and leave/,
      /lit room/,
      /tired/,
    ])
      await expect.element(gate()).toHaveTextContent(words);
    await expect.element(flashes()).toHaveValue('reduced');
    expect(picturesOnPage()).toBe(2);
    await wait();
    const before = framesRun();
    await wait();
    expect(framesRun()).toBe(before);
    expect(await violations()).toEqual([]);

    await userEvent.keyboard('{Enter}');
    await expect.element(gate()).not.toBeInTheDocument();
    await expect.element(flashes()).toHaveValue('reduced');
    await expect.poll(focused).toBe(flashes().element());
    expect(picturesOnPage()).toBe(2);
    await isPlaying();
    await expect.poll(framesRun).toBeGreaterThan(before);
  });

  test('Escape is no, and as everywhere it leaves play paused', async () => {
    await begin();
    await isPlaying();
    await chooseFull();
    await expect.element(gate()).toBeVisible();
    await userEvent.keyboard('{Escape}');
    await expect.element(gate()).not.toBeInTheDocument();
    await expect.element(flashes()).toHaveValue('outline');
    await expect.element(page.getByRole('button', { name: 'Go on' })).toBeVisible();
    await chooseFull();
    await keepOut().click();
    await expect.element(page.getByRole('button', { name: 'Go on' })).toBeVisible();
  });

  test('who has allowed them is asked again only on a page that was loaded anew', async () => {
    await chooseFull();
    await allowFull();
    await expect.element(flashes()).toHaveValue('full');
    await flashes().selectOptions('left out, boxes as outlines');
    await chooseFull();
    await expect.element(flashes()).toHaveValue('full');
    await expect.element(gate()).not.toBeInTheDocument();
    document.body.replaceChildren();
    render(html`<latelight-play></latelight-play>`, document.body.appendChild(document.createElement('main')));
    await chooseFull();
    await expect.element(gate()).toBeVisible();
    await expect.element(flashes()).toHaveValue('outline');
  });
});

test('where full flashes are shown the picture is 144 x 135 CSS pixels, and there is one', async () => {
  await begin();
  await expect.element(page.getByRole('button', { name: 'Pause' })).toBeVisible();
  await chooseFull();
  await allowFull();
  await expect.element(page.getByText('Every shot now flashes.')).toBeVisible();
  const pictures = document.querySelector('latelight-play')!.shadowRoot!.querySelectorAll('bench-picture');
  expect(pictures.length).toBe(1);
  const picture = pictures[0]!;
  const { width, height } = picture.getBoundingClientRect();
  expect([width, height]).toEqual([144, 135]);
});

test('pictures that grow again show what stood there before the full flashes, also while paused', async () => {
  await begin();
  const bench = document.querySelector('latelight-play')!;
  const pictures = () => [...bench.shadowRoot!.querySelectorAll('bench-picture')];
  const canvasOf = (picture: Element) => picture.shadowRoot!.querySelector('canvas')!.getContext('2d')!;
  const dotsOf = (picture: Element) => canvasOf(picture).getImageData(0, 0, 256, 240).data;
  const isAlike = (a: Uint8ClampedArray, b: Uint8ClampedArray) => a.every((value, at) => value === b[at]);
  await expect.poll(() => Number(bench.dataset['frames'] ?? 0), { timeout: 60_000 }).toBeGreaterThan(60);
  await userEvent.keyboard('{Escape}');
  await expect.element(page.getByRole('button', { name: 'Go on' })).toBeVisible();
  // Pictures that were on their way are drawn before the bench stands still.
  let before = pictures().map(dotsOf);
  const stands = async () => {
    const earlier = before;
    await new Promise((done) => setTimeout(done, 200));
    before = pictures().map(dotsOf);
    return before.map((dots, i) => isAlike(dots, earlier[i]!));
  };
  await expect.poll(stands, { timeout: 10_000 }).toEqual([true, true]);
  expect(before.map((dots) => dots.some((value, at) => at % 4 < 3 && value > 0))).toEqual([true, true]);
  await chooseFull();
  await allowFull();
  await expect.poll(() => pictures().length).toBe(1);
  // As if play had stopped at a flash.
  pictures()[0]!.paint(new Uint8ClampedArray(256 * 240 * 4).fill(255));
  await flashes().selectOptions('left out, boxes as outlines');
  await expect.poll(() => pictures().map(({ id }) => id)).toEqual(['sent', 'shown']);
  await expect.poll(() => pictures().map((picture, i) => isAlike(dotsOf(picture), before[i]!))).toEqual([true, true]);
  expect(pictures().map((picture) => picture.getBoundingClientRect().width)).toEqual([304, 304]);
});

test('a picture that gave way to another while paused is drawn again when play goes on, though the game stands still', async () => {
  const bench = document.querySelector('latelight-play')!;
  const frames = () => Number(bench.dataset['frames'] ?? 0);
  const isBlack = () => {
    const canvas = bench.shadowRoot!.querySelector('#shown')!.shadowRoot!.querySelector('canvas')!;
    const { data } = canvas.getContext('2d')!.getImageData(0, 0, 256, 240);
    return data.every((value, at) => at % 4 === 3 || value === 0);
  };
  await chooseFull();
  await allowFull();
  await begin();
  await expect.poll(frames, { timeout: 60_000 }).toBeGreaterThan(60);
  expect(isBlack()).toBe(false);
  await page.getByRole('button', { name: 'Pause' }).click();
  // Nothing was drawn for the large size yet.
  await flashes().selectOptions('left out, boxes as outlines');
  await expect.poll(isBlack).toBe(true);
  await chooseFull();
  const before = frames();
  await page.getByRole('button', { name: 'Go on' }).click();
  await expect.poll(frames).toBeGreaterThan(before + 1);
  expect(isBlack()).toBe(false);
});

describe('on a phone the verdict of a pull is seen where the finger is', () => {
  const bench = () => document.querySelector('latelight-play')!;
  const shown = () => bench().shadowRoot!.querySelector('#shown')!;
  const frames = () => Number(bench().dataset['frames'] ?? 0);
  const told = () => [...bench().shadowRoot!.querySelectorAll('.told')];
  const isSeen = (place: Element) => {
    const { top, bottom, height } = place.getBoundingClientRect();
    return height > 0 && top >= 0 && bottom <= innerHeight;
  };

  test.each([
    [390, 844],
    [640, 700],
  ])('%i x %i: above and below the glass, covering nothing and moving nothing', async (width, height) => {
    await page.viewport(width, height);
    await begin();
    await expect.element(page.getByRole('button', { name: 'Pause' })).toBeVisible();
    await page.getByRole('button', { name: 'Select' }).click();
    const from = frames();
    await expect.poll(frames, { timeout: 60_000 }).toBeGreaterThan(from + 90);
    expect(told().map((line) => line.textContent!.trim())).toEqual(['no shot yet', 'no shot yet']);
    let pulls = 0;
    // The picture stands at the top of the window, in the middle, at its foot, and is cut off at either end.
    for (const place of [{ cut: 0 }, { cut: 100 }, { cut: height - 285 }, { cut: -60 }, { cut: height - 200 }]) {
      const lastPull = frames();
      await expect.poll(frames, { timeout: 60_000 }).toBeGreaterThan(lastPull + 120);
      scrollBy(0, shown().getBoundingClientRect().top - place.cut);
      const before = shown().getBoundingClientRect();
      const at = { clientX: before.left + before.width * (52 / 256), clientY: before.top + before.height * (36 / 240) };
      shown().dispatchEvent(new PointerEvent('pointermove', { ...at, bubbles: true, composed: true }));
      shown().dispatchEvent(new PointerEvent('pointerdown', { ...at, button: 0, bubbles: true, composed: true }));
      pulls++;
      await expect
        .poll(() => told()[1]!.textContent!.trim(), { timeout: 30_000 })
        .toMatch(new RegExp(`^[✓✕] [a-z ]+, shot ${pulls}: what the light did$`));
      const lines = told().filter(isSeen);
      expect(lines.length).toBeGreaterThan(0);
      const after = shown().getBoundingClientRect();
      expect(after).toEqual(before);
      for (const line of lines) {
        const { top, bottom } = line.getBoundingClientRect();
        expect(bottom <= after.top || top >= after.bottom).toBe(true);
        expect(line.scrollWidth).toBeLessThanOrEqual(line.clientWidth);
      }
    }
    expect(await violations()).toEqual([]);
    await page.getByRole('button', { name: 'what the light did' }).click();
    await expect.poll(() => isSeen(bench().shadowRoot!.querySelector('.answer .verdict')!)).toBe(true);
  });
});

test('a calibration pull is told at the glass, in the verdict and, after the next shot, in the list', async () => {
  await page.viewport(390, 844);
  const bench = document.querySelector('latelight-play')!;
  const frames = () => Number(bench.dataset['frames'] ?? 0);
  const run = async (count: number) => {
    const from = frames();
    await expect.poll(frames, { timeout: 60_000 }).toBeGreaterThan(from + count);
  };
  const pull = (x: number, y: number) => {
    const shown = bench.shadowRoot!.querySelector('#shown')!;
    const { left, top, width, height } = shown.getBoundingClientRect();
    const at = { clientX: left + (x / 256) * width, clientY: top + (y / 240) * height };
    shown.dispatchEvent(new PointerEvent('pointerdown', { ...at, button: 0 }));
  };
  const verdict = page.getByRole('status');
  await page.getByRole('combobox', { name: /^strategy/ }).selectOptions('calibrated');
  await begin();
  await expect.element(page.getByRole('button', { name: 'Pause' })).toBeVisible();
  await page.getByRole('button', { name: 'Select' }).click();
  await run(120);
  pull(128, 120);
  await expect
    .element(verdict, { timeout: 30_000 })
    .toHaveTextContent(/✓ calibrated.*The program has found a delay of [\d.]+ ms/);
  await expect.element(page.getByText(/✓ calibrated, pull 1: what came of it/)).toBeVisible();
  await run(180);
  pull(52, 36);
  await expect.element(page.getByText(/✓ hit, shot 2: what the light did/), { timeout: 30_000 }).toBeVisible();
  await expect.element(page.getByRole('listitem').filter({ hasText: 'The program has found a delay' })).toBeVisible();
});

test('paused, another program is told to have no pictures of its own yet', async () => {
  const stale = page.getByText('the pictures are still those of what was played before');
  await begin();
  await expect.element(page.getByRole('button', { name: 'Pause' })).toBeVisible();
  await expect.poll(() => Number(document.querySelector('latelight-play')!.dataset['frames'] ?? 0)).toBeGreaterThan(2);
  await userEvent.keyboard('{Escape}');
  await expect.element(page.getByRole('button', { name: 'Go on' })).toBeVisible();
  await expect.element(stale).not.toBeInTheDocument();
  await page.getByLabelText('strategy').selectOptions('calibrated');
  await expect.element(stale).toBeVisible();
  await page.getByRole('button', { name: 'Go on' }).click();
  await expect.element(stale).not.toBeInTheDocument();
});

test('every strategy can be chosen while it runs', async () => {
  await begin();
  await expect.element(page.getByRole('button', { name: 'Pause' })).toBeVisible();
  for (const { title } of (await import('../../src/ui/programs.ts')).PROGRAMS) {
    await page.getByLabelText('strategy of the game').selectOptions(title);
    await expect.element(page.getByRole('button', { name: 'Pause' })).toBeVisible();
  }
  await expect.element(page.getByRole('status')).not.toHaveTextContent(/not possible/);
});

test('a stage that was just added stands in its form with its own model', async () => {
  const model = () => {
    const way = document.querySelector('latelight-play')?.shadowRoot?.querySelector('lights-way');
    return way?.shadowRoot?.querySelector('station-form')?.shadowRoot?.querySelector('select')?.value;
  };
  await page.getByRole('button', { name: /^console/ }).click();
  await page.getByRole('button', { name: 'Add a frame buffer behind it' }).click();
  await expect.poll(model).toBe('frame-buffer');
  await page.getByRole('button', { name: 'Add a pure delay behind it' }).click();
  await expect.poll(model).toBe('pure-delay');
});

describe('settings and the way of the light', () => {
  const bench = () => document.querySelector('latelight-play')!;
  const boxOf = (selector: string) => bench().shadowRoot!.querySelector(selector)!.getBoundingClientRect();

  test.each([320, 390, 640])('at %i pixels the settings are as wide as the stage above them', async (width) => {
    await page.viewport(width, 844);
    await expect.poll(() => boxOf('.settings').width).toBeCloseTo(boxOf('.stage').width, 0);
    expect(boxOf('.settings').left).toBeCloseTo(boxOf('.stage').left, 0);
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(width);
  });

  test('at 1280 and at 1180 they have room for long names, and both pictures still stand side by side', async () => {
    document.querySelector<HTMLElement>('main')!.style.maxWidth = '72rem';
    await begin();
    await expect.element(page.getByRole('button', { name: 'Pause' })).toBeVisible();
    for (const width of [1280, 1180]) {
      await page.viewport(width, 900);
      await expect.poll(() => boxOf('.settings select').width).toBeGreaterThan(330);
      const [sent, shown] = [boxOf('#sent'), boxOf('#shown')];
      expect(shown.top).toBe(sent.top);
      expect(boxOf('.settings').left).toBeGreaterThan(shown.right);
    }
  });

  test('before the first shot the plots of the stations say that nothing is drawn; after it they are drawn', async () => {
    await page.viewport(1280, 900);
    const way = () => bench().shadowRoot!.querySelector('lights-way')!.shadowRoot!;
    const plots = () => [...way().querySelectorAll('svg')];
    const isDrawn = () => plots().map((plot) => getComputedStyle(plot.querySelector('path')!).display !== 'none');
    await expect.element(page.getByText(/^No shot through this light stands here/)).toBeVisible();
    expect(isDrawn().some(Boolean)).toBe(false);
    const { height } = way().host.getBoundingClientRect();
    await page.getByRole('button', { name: /^Shoot once/ }).click();
    await expect
      .element(page.getByText(/^Every station shows what it did to the flash/), { timeout: 30_000 })
      .toBeVisible();
    expect(isDrawn().every(Boolean)).toBe(true);
    for (const plot of plots()) expect(plot.getBoundingClientRect().height).toBeGreaterThanOrEqual(36);
    expect(way().host.getBoundingClientRect().height).toBe(height);
    await expect.element(page.getByText(/two fingers, \+ and − zoom/)).toBeVisible();
    expect(await violations()).toEqual([]);
  });
});
