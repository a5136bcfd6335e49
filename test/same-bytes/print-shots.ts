import { readFileSync } from 'node:fs';
import type { Engine } from '../../src/shot/shot.ts';
import { hashOfShots } from './shots.ts';

const folder = 'homebrew-demo/first-light';
const files = {
  image: new Uint8Array(readFileSync(`${folder}/first-light.bin`)),
  labels: readFileSync(`${folder}/first-light.lbl`, 'utf8'),
  scenario: readFileSync(`${folder}/tube.json`, 'utf8'),
};
console.log(JSON.stringify(hashOfShots(files, process.argv[2] as Engine)));
