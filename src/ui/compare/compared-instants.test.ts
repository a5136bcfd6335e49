import { expect, test } from 'vitest';
import type { ShotMark } from '../../workers/play.api.ts';
import { comparedInstants, differenceText } from './compared-instants.ts';

const mark = (name: string, ms: number): ShotMark => ({ name, title: '', ms });
const KEPT = [mark('trigger', 0), mark('flashOnWire', 51.442), mark('lastRead', 115.134), mark('decision', 115.6)];
const NOW = [mark('trigger', 0), mark('flashOnWire', 34.8), mark('crossing', 86.1), mark('decision', 115.6002)];

test('instants of either shot stand from trigger to decision, under the names of reports', () => {
  expect(comparedInstants(KEPT, NOW)).toEqual([
    { title: 'trigger', keptMs: 0, nowMs: 0 },
    { title: 'flash leaves the console', keptMs: 51.442, nowMs: 34.8 },
    { title: 'threshold crossed', keptMs: null, nowMs: 86.1 },
    { title: 'last read before it decided', keptMs: 115.134, nowMs: null },
    { title: 'decision', keptMs: 115.6, nowMs: 115.6002 },
  ]);
});

test('a difference says which way it goes; less than a microsecond is none', () => {
  expect(comparedInstants(KEPT, NOW).map(differenceText)).toEqual(['the same', '16.642 earlier', '–', '–', 'the same']);
  expect(differenceText({ title: '', keptMs: -1, nowMs: 2.0006 })).toBe('3.001 later');
});
