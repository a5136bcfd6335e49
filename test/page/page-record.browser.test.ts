import { expect, test } from 'vitest';
import '../../src/ui/bench-picture.ts';
import '../../src/ui/page.css';
import { PicturePair } from '../../src/ui/bench/picture-pair.ts';
import { PAGE_RECORD } from '../../src/ui/page-record.ts';

const DOTS = 256 * 240;
const black = (): Uint8ClampedArray<ArrayBuffer> =>
  new Uint8ClampedArray(4 * DOTS).map((_, at) => (at % 4 === 3 ? 255 : 0));
/** As many outlines as cover more than a quarter of the block that counts. */
const BOXES = Array.from({ length: 15 }, (_, i) => ({ x: 0, y: 16 * i, width: 256, height: 8 }));

const most = async (): Promise<number> =>
  Math.max(0, ...(await PAGE_RECORD.report()).findings.flatMap(({ counts }) => counts.map(({ changes }) => changes)));

test('outlines are on the record of the page, also where they come and go over a picture that stays', async () => {
  const picture = document.createElement('bench-picture');
  picture.id = 'shown';
  document.body.append(picture);
  await picture.updateComplete;
  const pair = new PicturePair(
    (name) => (name === 'shown' ? picture : null),
    () => {},
    () => false,
  );
  pair.paint('shown', { dots: black(), number: 1, outlines: [] });
  const before = await most();
  for (let k = 0; k < 5; k++) {
    pair.paint('shown', { dots: null, number: null, outlines: BOXES });
    await new Promise((done) => setTimeout(done, 30));
    pair.paint('shown', { dots: null, number: null, outlines: [] });
    await new Promise((done) => setTimeout(done, 30));
  }
  // The picture that came, black on the light page, and ten changes of its outlines.
  expect(before).toBeLessThanOrEqual(1);
  expect(await most()).toBeGreaterThanOrEqual(10);
  expect((await PAGE_RECORD.report()).watched).toContain('11 pictures');
  picture.remove();
});
