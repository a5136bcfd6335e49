import axe from 'axe-core';
import { beforeEach, describe, expect, test } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import '../../src/ui/time-ruler.ts';
import '../../src/ui/page.css';
import type { TimeRuler } from '../../src/ui/time-ruler.ts';
import { RULER_MARKS, rulerLanes } from './ruler-lanes.ts';

const LIGHT = '#ff0000';
let ruler: TimeRuler;

async function show(columns: number, spike: number, width = 900): Promise<void> {
  await page.viewport(Math.max(width, 320), 700);
  document.body.innerHTML = '<main><h1>Ruler</h1></main>';
  ruler = document.createElement('time-ruler');
  ruler.style.setProperty('--light', LIGHT);
  ruler.marks = RULER_MARKS;
  ruler.lanes = rulerLanes(columns, spike);
  document.querySelector('main')!.append(ruler);
  await settled();
}

/** Until what is wanted is drawn. */
async function settled(): Promise<void> {
  await ruler.updateComplete;
  for (let k = 0; k < 3; k++) await new Promise(requestAnimationFrame);
  await ruler.updateComplete;
}

const inner = (selector: string): HTMLElement => ruler.shadowRoot!.querySelector(selector)!;

async function press(key: string): Promise<void> {
  inner('.plot').focus();
  await userEvent.keyboard(key);
  await settled();
}

/** Next event of a name that the ruler sends. */
const next = <E extends Event>(name: string): Promise<E> =>
  new Promise((done) => ruler.addEventListener(name, (event) => done(event as E), { once: true }));

beforeEach(() => () => document.body.replaceChildren());

describe('axe finds nothing', () => {
  test.each([900, 320])('%i pixels wide, with a held cursor and the table open', async (width) => {
    await show(800, 400, width);
    await press('h');
    inner('summary').click();
    await settled();
    const found = await axe.run(document.body, { rules: { 'target-size': { enabled: true } } });
    expect(found.violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target).join(' ')}`)).toEqual(
      [],
    );
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(Math.max(width, 320));
  });
});

/** Whether the top of the light lane has dots of the light's colour. */
function seesSpike(): boolean {
  const canvas = inner('canvas') as HTMLCanvasElement;
  const scale = canvas.width / canvas.getBoundingClientRect().width;
  // The light lane stands from 96 to 132 px, see the layout; its upper half is empty but for the spike.
  const { data } = canvas.getContext('2d')!.getImageData(0, 96 * scale, canvas.width, 18 * scale);
  for (let at = 0; at < data.length; at += 4)
    if (data[at]! > 200 && data[at + 1]! < 80 && data[at + 2]! < 80) return true;
  return false;
}

test('one sample of a million that stands out is seen at every zoom', async () => {
  const count = 1_000_000;
  const spike = 612_345;
  await show(count, spike);
  const { fromMs, toMs } = ruler.lanes!;
  const spikeMs = fromMs + ((spike + 0.5) / count) * (toMs - fromMs);
  for (let share = 1; share > 2e-5; share /= 3.7) {
    const length = share * (toMs - fromMs);
    const from = Math.max(fromMs, Math.min(toMs - length, spikeMs - 0.37 * length));
    ruler.show({ fromMs: from, toMs: from + length });
    await settled();
    expect(seesSpike(), `${length} ms are seen`).toBe(true);
    ruler.show({ fromMs: spikeMs + 0.01 * length + 0.001, toMs: Math.min(toMs, spikeMs + 1.01 * length + 0.001) });
    await settled();
    if (share < 0.3) expect(seesSpike(), 'beside it').toBe(false);
  }
});

test('many changes within a frame are one drawing', async () => {
  await show(800, 400);
  let drawings = 0;
  const canvas = inner('canvas') as HTMLCanvasElement;
  const getContext = canvas.getContext.bind(canvas);
  canvas.getContext = ((kind: '2d') => {
    drawings++;
    return getContext(kind);
  }) as typeof canvas.getContext;
  await new Promise(requestAnimationFrame);
  for (let k = 0; k < 40; k++) ruler.do('zoom in');
  await settled();
  expect(drawings).toBe(1);
});

describe('cursor', () => {
  test('keys move it to scanline, frame, edge and shot; each time is told', async () => {
    await show(800, 400);
    const told: (number | null)[] = [];
    ruler.addEventListener('cursor-time', (event) => told.push((event as Event & { ms: number | null }).ms));
    await press('h');
    await press('.');
    await press('f');
    await press('b');
    await press('{Shift>}{ArrowRight}{/Shift}');
    await press('{End}');
    await press('{Escape}');
    const { fromMs, toMs } = ruler.lanes!;
    const frameMs = (toMs - fromMs) / 12;
    expect(told.map((ms) => ms && Number(ms.toFixed(6)))).toEqual(
      [0, frameMs / 262, frameMs, 0, 5, toMs, null].map((ms) => ms && Number(ms.toFixed(6))),
    );
  });

  test('it snaps to the crossing, says where that is and what reads, a second one measures', async () => {
    await show(800, 400);
    const box = inner('.plot').getBoundingClientRect();
    const { fromMs, toMs } = ruler.view!;
    const x = 158 + ((90 - fromMs) / (toMs - fromMs)) * (box.width - 158);
    await userEvent.click(inner('.plot'), { position: { x: x + 2, y: 60 } });
    await settled();
    const text = inner('.readout').textContent!.replace(/\s+/g, ' ');
    expect(text).toMatch(/^ *time90\.0000 ms/);
    expect(text).toMatch(/frame86scanline\d+dot\d+cycle[\d ]+codelook\+5instantthreshold crossed/);
    expect(inner('.plot').getAttribute('aria-valuetext')).toMatch(/^90\.00 ms, frame 86, .*threshold crossed$/);
    await press('m');
    await press('{Home}');
    expect(inner('.readout').textContent).toMatch(/measured\s*106\.639\u2009ms · 1679\.1 scanlines · 6\.41 frames/);
  });
});

describe('view', () => {
  test('after a shot it frames the shot; wheel and keys zoom, a drag moves, 0 shows all', async () => {
    await show(800, 400);
    const { fromMs, toMs } = ruler.lanes!;
    expect(ruler.view!.fromMs).toBeGreaterThan(fromMs);
    expect(ruler.view!.toMs).toBeLessThan(toMs);
    await press('0');
    expect(ruler.view).toEqual({ fromMs, toMs });
    const plot = inner('.plot');
    const wheel = (deltaY: number) => {
      const event = new WheelEvent('wheel', { deltaY, clientX: 500, bubbles: true, cancelable: true });
      plot.dispatchEvent(event);
      return event.defaultPrevented;
    };
    expect(wheel(100)).toBe(false); // nothing to show beyond the whole: the page scrolls
    expect(wheel(-300)).toBe(true);
    const zoomed = ruler.view!;
    expect(zoomed.toMs - zoomed.fromMs).toBeCloseTo(0.8 ** 3 * (toMs - fromMs), 6);
    const pointer = (type: string, clientX: number) =>
      plot.dispatchEvent(new PointerEvent(type, { clientX, pointerId: 1, bubbles: true }));
    plot.setPointerCapture = () => undefined;
    pointer('pointerdown', 500);
    pointer('pointermove', 550);
    pointer('pointerup', 550);
    expect(ruler.view!.fromMs).toBeLessThan(zoomed.fromMs);
    await press('{+}');
    expect(ruler.view!.toMs - ruler.view!.fromMs).toBeLessThan(zoomed.toMs - zoomed.fromMs);
  });

  test('a closer look asks for the part that is seen, and what comes is drawn', async () => {
    await show(800, 10);
    const asked = next<Event & { fromMs: number; toMs: number; columns: number }>('detail-wanted');
    ruler.show({ fromMs: 40, toMs: 41 });
    const { fromMs, toMs, columns } = await asked;
    expect([fromMs, toMs]).toEqual([39.5, 41.5]);
    expect(seesSpike()).toBe(false);
    const light = new Float32Array(2 * columns).fill(1).fill(100, columns, columns + 2);
    ruler.detail = { fromMs, toMs, light, sensor: light, threshold: new Float32Array(columns) };
    await settled();
    expect(seesSpike()).toBe(true);
  });
});

test('saved files: SVG can be read and has the lanes, PNG is one, CSV and VCD have their first lines', async () => {
  await show(800, 400);
  await press('h');
  const text = async (kind: 'SVG' | 'CSV' | 'VCD') => (await ruler.fileOf(kind))!.text();
  const svg = new DOMParser().parseFromString(await text('SVG'), 'image/svg+xml');
  expect(svg.querySelector('parsererror')).toBe(null);
  expect(svg.documentElement.textContent).toMatch(
    /frames[\s\S]*light at the spot[\s\S]*box 0[\s\S]*35\.0\u2009ms too early/,
  );
  const png = new Uint8Array(await (await ruler.fileOf('PNG'))!.arrayBuffer());
  // Signature. Source: W3C, Portable Network Graphics (PNG) Specification, section 5.2.
  expect([...png.slice(0, 8)]).toEqual([137, 80, 78, 71, 13, 10, 26, 10]);
  expect(await text('CSV')).toMatch(/^time_ms,light_least/);
  expect(await text('VCD')).toMatch(/^\$version Latelight \$end/);
});
