import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { programFaults } from './program-check.ts';

const FOLDER = 'homebrew-demo/lamplighter';
const text = (name: string): string => readFileSync(`${FOLDER}/${name}`, 'utf8');
const image = new Uint8Array(readFileSync(`${FOLDER}/same-frame-untested.bin`));
const labels = text('same-frame-untested.lbl');
const TUBE = text('tube.json');

const found = (json: string, files = { image, labels }): string[] =>
  programFaults(json, files).map((fault) => fault.found);

describe('what is wrong with a program', () => {
  test('nothing with the demo, and nothing with addresses in place of labels', () => {
    expect(found(TUBE)).toEqual([]);
    const symbols = Object.fromEntries(
      ['targetLive', 'targetX', 'targetY', 'boxX', 'boxY', 'verdict'].map((name) => [name, 0x300]),
    );
    const { labels: _, ...unnamed } = JSON.parse(TUBE);
    expect(programFaults(JSON.stringify({ ...unnamed, symbols }), { image })).toEqual([]);
  });

  test('all of it is told at once: entries of the scenario, names of all expressions, image and labels', () => {
    const document = JSON.parse(TUBE);
    document.targets.x = 'byte(targetXX + i)';
    document.targets.y = 'byte(targetY + i';
    document.said.at = 'verdikt';
    expect(programFaults(JSON.stringify(document), { image: image.slice(1), labels })).toEqual([
      {
        found: expect.stringMatching(/^this is no cartridge image: it begins with 45 53 1A 02/),
        cure: expect.any(String),
      },
      {
        found: expect.stringMatching(/names "targetXX", which is not known/),
        cure: expect.stringMatching(/^Did you mean "targetX"\? The names there are: targetX, targetY, /),
      },
      { found: expect.stringMatching(/has nothing more at column 17, expected "\)"/), cure: expect.any(String) },
      { found: expect.stringMatching(/names "verdikt"/), cure: expect.stringMatching(/^Did you mean "verdict"\?/) },
    ]);
    document.said.on = 'read';
    document.targets.count = 0;
    expect(found(JSON.stringify(document), { image, labels: 'al 00C000 lamp' })).toEqual([
      expect.stringMatching(/^targets\.count: found 0/),
      expect.stringMatching(/^said\.on: found "read"/),
      expect.stringMatching(/^line 1 of the label file is "al 00C000 lamp"/),
    ]);
  });

  test.each([
    ['', /not JSON: the file is empty/],
    ['{"scenario": 1,', /not JSON: /],
    ['7', /the whole document: found 7/],
  ])('the text %j', (json, message) => {
    expect(found(json)[0]).toMatch(message);
  });
});
