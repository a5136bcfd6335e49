import { expect, test } from 'vitest';
import imageUrl from '../../homebrew-demo/first-light/first-light.bin?url';
import labels from '../../homebrew-demo/first-light/first-light.lbl?raw';
import scenario from '../../homebrew-demo/first-light/tube.json?raw';
import expected from './hashes.json';
import { hashOfShots } from './shots.ts';

test('200 shots have the hash on record (Chromium)', async () => {
  const image = new Uint8Array(await (await fetch(imageUrl)).arrayBuffer());
  expect(hashOfShots({ image, labels, scenario }, 'fast')).toEqual(expected.shots);
});
