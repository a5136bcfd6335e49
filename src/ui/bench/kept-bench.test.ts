import { describe, expect, test } from 'vitest';
import { FIRST_STATE } from './bench-state.ts';
import { type KeptBench, keptBenchText, readKeptBench } from './kept-bench.ts';
import { specsFor, standardSetting, withStage, withValue } from './light-edits.ts';

const STRATEGIES = ['same-frame-tested', 'calibrated'];
const late = withStage(FIRST_STATE.lightPath, 0, standardSetting(specsFor('stages')[0]!));
const later = withValue(late, { part: 'stages', index: 0 }, 'delayMs', 50);
const KEPT: KeptBench = {
  state: { strategy: 'calibrated', aim: { x: 1.25, y: -3 }, lightPath: late },
  past: [FIRST_STATE.lightPath],
  future: [later],
  drafts: { 'stages.0.delayMs': '50x' },
  rendering: 'reduced',
};
const read = (text: string) => readKeptBench(text, FIRST_STATE, STRATEGIES);

describe('the bench as it is kept', () => {
  test('is read as it was written, with an own image, too', () => {
    expect(read(keptBenchText(KEPT))).toEqual({ kept: KEPT });
    const own = { ...KEPT, state: { ...KEPT.state, strategy: 'own:game.nes' } };
    expect(read(keptBenchText(own))).toEqual({ kept: own });
  });

  test('never with full flashes: they are left out; so are those of a text that says nothing of them', () => {
    const text = keptBenchText(KEPT);
    for (const other of ['"rendering":"full"', '"rendering":"outline"', '"more":0'])
      expect(read(text.replace('"rendering":"reduced"', other))).toEqual({ kept: { ...KEPT, rendering: 'outline' } });
  });

  test('has the 50 steps that are next to it', () => {
    const path = (delayMs: number) => withValue(late, { part: 'stages', index: 0 }, 'delayMs', delayMs);
    const steps = Array.from({ length: 80 }, (_, delayMs) => path(delayMs));
    const answer = read(keptBenchText({ ...KEPT, past: steps, future: steps }));
    expect(answer).toEqual({ kept: { ...KEPT, past: steps.slice(30), future: steps.slice(0, 50) } });
  });

  test.each([
    ['', /^it is not JSON/],
    ['{"kept":1', /^it is not JSON/],
    ['null', /^version: found none, expected 1/],
    ['{"kept":2}', /^version: found 2, expected 1/],
    [keptBenchText(KEPT).replace('"calibrated"', '"none"'), /^strategy: found "none"/],
    [keptBenchText(KEPT).replace('"past":[', '"past":[7,'), /^past\.0: found 7/],
    [keptBenchText(KEPT).replace(/"future":\[.*\],"d/, '"future":{},"d'), /^future: found no list/],
    [keptBenchText(KEPT).replace('"50x"', '50'), /^drafts: found something else/],
    [
      keptBenchText(KEPT).replace('"reduced"', '"bright"'),
      /^rendering: found "bright", expected "outline" or "reduced"/,
    ],
    [keptBenchText(KEPT).replace('"bench":1', '"bench":9'), /^version: found 9/],
  ])('%#: what nobody can read says why', (text, fault) => {
    const answer = read(text);
    expect('faults' in answer && answer.faults.join('; ')).toMatch(fault);
  });
});
