import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { kindOf } from './file-kinds.ts';

const demo = (name: string): Uint8Array => new Uint8Array(readFileSync(`homebrew-demo/${name}`));
const text = (content: string): Uint8Array => new TextEncoder().encode(content);

test.each([
  ['a.txt', demo('first-light/first-light.bin'), 'image'],
  ['first-light.bin', text('not an image'), 'image'],
  ['names.txt', demo('first-light/first-light.lbl'), 'labels'],
  ['small.txt', new Uint8Array(readFileSync('test/assembler/corpus/small.dbg')), 'labels'],
  ['game.lbl', text('lamp = $10'), 'labels'],
  ['tube.txt', demo('lamplighter/tube.json'), 'scenario'],
  ['broken', text('\n { "scenario": 1,'), 'scenario'],
  ['bench.json', text('{ "bench": 1 }'), 'bench'],
])('%s is told by its content, or by its name where it is not what it should be', (name, bytes, kind) => {
  expect(kindOf(name, bytes)).toBe(kind);
});

test.each([
  ['game.s', text('.segment "CODE"'), /"game\.s" is no file that is read here: it begins with 2E 73 65 67 6D 65 6E 74/],
  ['nothing', new Uint8Array(), /it begins with nothing, for it is empty/],
  ['game.nes', new Uint8Array(), /"game\.nes" is no file that is read here: it begins with nothing/],
  ['list.json', text('[]'), /"list\.json" is no file that is read here: it begins with 5B 5D/],
  ['sweep.json', demo('three-lanterns/sweep.json'), /"sweep\.json" is the plan of a lag map/],
])('%s is refused', (name, bytes, message) => {
  expect(() => kindOf(name, bytes)).toThrow(message);
});
