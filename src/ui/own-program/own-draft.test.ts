import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { OwnFileKind } from './file-kinds.ts';
import { doubts, EMPTY_DRAFT, missingParts, withFiles } from './own-draft.ts';
import { draftFaults, programOf, setUpOf } from './own-program.ts';
import type { ReadFile } from './read-files.ts';
import { completeScenario, scenarioTemplate, withInstant } from './scenario-text.ts';

const FOLDER = 'homebrew-demo/lamplighter';
const file = (kind: OwnFileKind, path: string, name = path): ReadFile => ({
  name,
  kind,
  bytes: new Uint8Array(readFileSync(`${FOLDER}/${path}`)),
});
const IMAGE = file('image', 'same-frame-untested.bin');
const LABELS = file('labels', 'same-frame-untested.lbl');
const SCENARIO = file('scenario', 'tube.json');
const OTHER_IMAGE = file('image', 'calibrated.bin');

describe('files that are chosen together', () => {
  test('image, labels and scenario are a program', () => {
    const draft = withFiles(EMPTY_DRAFT, [SCENARIO, LABELS, IMAGE]);
    expect([missingParts(draft), doubts(draft), draftFaults(draft)]).toEqual([[], [], []]);
    expect(programOf(draft, 1)).toMatchObject({
      id: 'own:same-frame-untested.bin',
      title: 'own image: same-frame-untested.bin',
      hasShots: true,
    });
  });

  test('of several a scenario says which one is meant; without one, or with two scenarios, nothing is taken', () => {
    const draft = withFiles(EMPTY_DRAFT, [OTHER_IMAGE, IMAGE, SCENARIO, LABELS]);
    expect(draft.image?.name).toBe('same-frame-untested.bin');
    expect(() => withFiles(EMPTY_DRAFT, [OTHER_IMAGE, IMAGE])).toThrow(
      'found 2 cartridge images together ("calibrated.bin", "same-frame-untested.bin"), expected one',
    );
    expect(() => withFiles(draft, [SCENARIO, SCENARIO])).toThrow('found 2 scenarios together');
  });

  test('what is not chosen anew stays, and old labels beside a new image are doubted', () => {
    const draft = withFiles(withFiles(EMPTY_DRAFT, [IMAGE, LABELS, SCENARIO]), [OTHER_IMAGE]);
    expect([draft.labels?.name, draft.scenarioName]).toEqual(['same-frame-untested.lbl', 'tube.json']);
    expect(doubts(draft)).toEqual([
      'The scenario names the image "same-frame-untested.bin"; it is played with "calibrated.bin".',
      expect.stringMatching(/^The labels were there before the image/),
    ]);
  });
});

describe('without a scenario', () => {
  test('there is one to complete, which follows the files until somebody types', () => {
    const image = withFiles(EMPTY_DRAFT, [IMAGE]);
    expect(JSON.parse(image.scenario)).toMatchObject({
      image: IMAGE.name,
      labels: 'game.lbl',
      title: 'same-frame-untested',
    });
    expect(missingParts(image)).toHaveLength(2);
    const both = withFiles(image, [LABELS]);
    expect(JSON.parse(both.scenario)).toMatchObject({ image: IMAGE.name, labels: LABELS.name });
    // It is made of Lamplighter's, so with Lamplighter nothing is wrong.
    expect(draftFaults(both)).toEqual([]);
    const typed = { ...both, scenario: `${both.scenario} ` };
    expect(withFiles(typed, [OTHER_IMAGE]).scenario).toBe(typed.scenario);
    expect(withFiles(typed, [SCENARIO]).scenario).not.toBe(typed.scenario);
  });

  test('nothing is played without an image', () => {
    const draft = withFiles(EMPTY_DRAFT, [LABELS]);
    expect(missingParts(draft)[0]).toMatch(/^The image is missing/);
    expect(programOf(draft, 1)).toBeUndefined();
  });
});

describe('a scenario without shots', () => {
  const template = scenarioTemplate('a.nes', 'a.lbl');

  test('gets one behind its pulls, and the instant that was found', () => {
    const { text, hasShots } = completeScenario(template);
    expect(hasShots).toBe(false);
    expect(JSON.parse(withInstant(text, 700)).shots).toEqual([{ aim: { x: 128, y: 120 }, atMs: 700 }]);
    const pulls = [{ aim: { x: 1, y: 2 }, atMs: 5000, squeezeMs: 2000 }];
    const late = JSON.stringify({ ...JSON.parse(template), pulls, settleMs: 10_000, shots: [] });
    const draft = { ...withFiles(EMPTY_DRAFT, [IMAGE, LABELS]), scenario: late };
    expect(draftFaults(draft)).toEqual([]);
    expect(setUpOf(programOf(draft, 1)!, { aim: { x: 3, y: 4 } }).aim).toEqual({ x: 3, y: 4 });
  });

  test.each(['', '[]', '{', '{ "shots": [1] }'])('the text %j is left to whoever checks it', (text) => {
    expect(completeScenario(text)).toEqual({ text, hasShots: true });
  });
});
