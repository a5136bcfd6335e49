// Measures the time ruler in headless Chromium with a million samples: 300 scripted steps of zooming and moving, each from
// the event to the last dot drawn (the canvas is read back, which waits for it).
import { createServer } from 'vite';

const STEPS = 300;
const SAMPLES = 1_000_000;
const SHARE = 0.95;
const PAGE = `<!doctype html><title>ruler</title><link rel="stylesheet" href="/src/ui/page.css"><main style="max-width: none"></main>`;

/** Runs in the page: times of all steps, ms. */
async function measureSteps({ steps, samples }) {
  await import('/src/ui/time-ruler.ts');
  const { RULER_MARKS, rulerLanes } = await import('/test/page/ruler-lanes.ts');
  const ruler = document.createElement('time-ruler');
  ruler.marks = RULER_MARKS;
  ruler.lanes = rulerLanes(samples, 612_345);
  document.querySelector('main').append(ruler);
  await ruler.updateComplete;
  await new Promise((done) => setTimeout(done, 300));
  const plot = ruler.shadowRoot.querySelector('.plot');
  const canvas = ruler.shadowRoot.querySelector('canvas');
  const left = canvas.getBoundingClientRect().left;
  ruler.do('show all');
  ruler.do('hold');
  const times = [];
  for (let k = 0; k < steps; k++) {
    await new Promise(requestAnimationFrame);
    const start = performance.now();
    const clientX = left + 200 + ((k * 97) % 900);
    // In for 40 steps, out for 40, and every third step sideways.
    const isIn = k % 80 < 40;
    const event = k % 3 === 2 ? { deltaX: isIn ? 60 : -60 } : { deltaY: isIn ? -100 : 100 };
    plot.dispatchEvent(new WheelEvent('wheel', { ...event, clientX, bubbles: true, cancelable: true }));
    await ruler.updateComplete;
    ruler.drawNow();
    canvas.getContext('2d').getImageData(0, 0, 1, 1);
    times.push(performance.now() - start);
  }
  return times;
}

/** Time that 95 % of the steps stay within, ms. */
export async function rulerStepMs(browser) {
  const server = await createServer({
    configFile: false,
    appType: 'custom',
    server: { port: 0, hmr: false },
    cacheDir: 'node_modules/.vite/ruler-steps',
    logLevel: 'error',
  });
  await server.listen();
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
  try {
    await page.route('**/ruler.html', (route) => route.fulfill({ contentType: 'text/html', body: PAGE }));
    await page.goto(`${server.resolvedUrls.local[0]}ruler.html`);
    const times = await page.evaluate(measureSteps, { steps: STEPS, samples: SAMPLES });
    times.sort((a, b) => a - b);
    return times[Math.ceil(SHARE * times.length) - 1];
  } finally {
    await page.close();
    await server.close();
  }
}
