import { expect, test } from 'vitest';
import { FIRST_STATE } from '../bench/bench-state.ts';
import {
  specsFor,
  standardSetting,
  withoutStage,
  withSetting,
  withStage,
  withStageMoved,
  withValue,
} from '../bench/light-edits.ts';
import { type ComparedSetUp, setUpDifferences } from './set-up-differences.ts';

const TUBE: ComparedSetUp = { strategy: 'fixed delay', lightPath: FIRST_STATE.lightPath, aim: { x: 52, y: 36 } };
const stage = (kind: string) => standardSetting(specsFor('stages').find((spec) => spec.kind === kind)!);
const STAGE = { part: 'stages', index: 0 } as const;
const PANEL = { part: 'panel', index: 0 } as const;
const lcd = standardSetting(specsFor('panel').find(({ kind }) => kind === 'lcd')!);
const late = withStage(TUBE.lightPath, 0, stage('pure-delay'));

test('the same set-up has no differences, also where it is another object', () => {
  expect(setUpDifferences(TUBE, structuredClone(TUBE))).toEqual([]);
});

test('strategy, aim and models are named with what they were and what they are', () => {
  const lightPath = withSetting(TUBE.lightPath, PANEL, lcd);
  expect(setUpDifferences(TUBE, { strategy: 'calibrated', lightPath, aim: { x: 52, y: 40.25 } })).toEqual([
    { what: 'strategy', kept: 'fixed delay', now: 'calibrated' },
    { what: 'aim', kept: 'dot 52.0, line 36.0', now: 'dot 52.0, line 40.3' },
    { what: 'panel', kept: 'picture tube', now: 'LCD' },
  ]);
});

test('of one model the values that differ, with their units', () => {
  const slow = withValue(withSetting(TUBE.lightPath, PANEL, lcd), PANEL, 'riseMs', 12);
  const quick = withSetting(TUBE.lightPath, PANEL, lcd);
  const [only, ...others] = setUpDifferences({ ...TUBE, lightPath: quick }, { ...TUBE, lightPath: slow });
  expect(others).toEqual([]);
  expect(only).toMatchObject({ what: expect.stringMatching(/^LCD, .*rise/), now: '12 ms' });
});

test('stages that come, go or change places are told as a whole, one that stays by its value', () => {
  const later = withValue(late, STAGE, 'delayMs', 50);
  const two = withStage(later, 1, stage('frame-buffer'));
  const differences = (kept: typeof late, now: typeof late) =>
    setUpDifferences({ ...TUBE, lightPath: kept }, { ...TUBE, lightPath: now });
  expect(differences(TUBE.lightPath, later)).toEqual([{ what: 'stages', kept: 'none', now: 'pure delay 50 ms' }]);
  expect(differences(withoutStage(later, 0), TUBE.lightPath)).toEqual([]);
  expect(differences(late, later)).toEqual([{ what: 'pure delay, delay', kept: expect.any(String), now: '50 ms' }]);
  const [moved] = differences(two, withStageMoved(two, 0, 1));
  expect(moved).toMatchObject({ what: 'stages', kept: expect.stringMatching(/^pure delay 50 ms, then /) });
  expect(moved!.now).toMatch(/, then pure delay 50 ms$/);
});
