// A page that does the least that a page like ours does: a button, then two pictures from a worker at every frame.
import { once } from 'node:events';
import { createServer } from 'node:http';

const PAGE = `<!doctype html><title>bare</title>
<button>I have read this: start</button>
<div class="play" tabindex="0" hidden>${'<canvas width="256" height="240" style="width: 304px; height: 285px"></canvas>'.repeat(2)}</div>
<script src="page.js"></script>`;

const SCRIPT = `
const worker = new Worker('worker.js');
const [button, play] = document.querySelectorAll('button, .play');
const places = [...document.querySelectorAll('canvas')].map((canvas) => canvas.getContext('2d'));
let level = 0;
play.onkeydown = () => void level++;
worker.onmessage = ({ data }) => {
  for (const [k, dots] of data.entries()) places[k].putImageData(new ImageData(dots, 256, 240), 0, 0);
  requestAnimationFrame(() => worker.postMessage(level));
};
button.onclick = () => {
  button.hidden = true;
  play.hidden = false;
  play.focus();
  worker.postMessage(level);
};`;

const WORKER = `
onmessage = ({ data: level }) => {
  const pictures = [0, 1].map(() => new Uint8ClampedArray(4 * 256 * 240).fill(level * 7 % 256));
  postMessage(pictures, pictures.map((dots) => dots.buffer));
};`;

const FILES = new Map([
  ['/', ['text/html', PAGE]],
  ['/page.js', ['text/javascript', SCRIPT]],
  ['/worker.js', ['text/javascript', WORKER]],
]);

/** `{ url, close }`. */
export async function servedBarePage() {
  const server = createServer(({ url }, response) => {
    const [type, text] = FILES.get(url) ?? ['text/plain', ''];
    response.writeHead(FILES.has(url) ? 200 : 404, { 'content-type': type }).end(text);
  }).listen(0, 'localhost');
  await once(server, 'listening');
  return { url: `http://localhost:${server.address().port}/`, close: () => server.close() };
}
