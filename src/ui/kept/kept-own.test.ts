import { describe, expect, test } from 'vitest';
import type { OwnParts } from '../own-program/own-desk.ts';
import { EMPTY_DRAFT, type OwnDraft } from '../own-program/own-draft.ts';
import { keptOwn, keptScenarioText, readKeptOwn, readKeptScenario } from './kept-own.ts';

const DRAFT: OwnDraft = {
  image: { name: 'game.nes', content: new Uint8Array([1, 2]), take: 1 },
  labels: { name: 'game.lbl', content: 'al 00C000 .lamp', take: 2 },
  scenario: '{',
  scenarioName: 'game.json',
  takes: 2,
};

describe('an own program as it is kept', () => {
  test.each<OwnParts>([
    { draft: DRAFT, onBench: DRAFT },
    { draft: EMPTY_DRAFT, onBench: undefined },
  ])('%#: is read as it was written, through the copy that a browser makes', (parts) => {
    expect(readKeptOwn(structuredClone(keptOwn(parts)))).toEqual(parts);
  });

  test.each([
    null,
    7,
    'text',
    {},
    { ...keptOwn({ draft: DRAFT, onBench: DRAFT }), version: 2 },
    { ...keptOwn({ draft: DRAFT, onBench: DRAFT }), onBench: {} },
    { version: 1, draft: { ...DRAFT, image: { name: 'a', content: 'text', take: 1 } }, onBench: null },
    { version: 1, draft: { ...DRAFT, labels: null }, onBench: null },
    { version: 1, draft: { ...DRAFT, scenario: 7 }, onBench: null },
  ])('%#: anything else is not taken for one', (record) => {
    expect(readKeptOwn(record)).toBeUndefined();
  });

  test('the text that is typed', () => {
    const { scenario, scenarioName } = DRAFT;
    expect(readKeptScenario(keptScenarioText(DRAFT))).toEqual({ scenario, scenarioName });
    for (const text of ['', '{', 'null', '[]', '{"scenario":1,"scenarioName":""}'])
      expect(readKeptScenario(text)).toBeUndefined();
  });
});
