import { readFileSync } from 'node:fs';
import { hashOfShots } from './shots.ts';

const folder = 'homebrew-demo/first-light';
const result = hashOfShots({
  image: new Uint8Array(readFileSync(`${folder}/first-light.bin`)),
  labels: readFileSync(`${folder}/first-light.lbl`, 'utf8'),
  scenario: readFileSync(`${folder}/tube.json`, 'utf8'),
});
console.log(JSON.stringify(result));
