import { expect, test } from 'vitest';
import { ScriptedSession } from '../../src/shot/scripted-session.ts';
import { firstLight } from '../first-light.ts';

const LAMP = { x: 128, y: 112 };
const BESIDE = { x: 20, y: 200 };

test.each([
  ['the lamp first', [LAMP, BESIDE], ['hit', 'rightly none']],
  ['the lamp last', [BESIDE, LAMP], ['rightly none', 'hit']],
] as const)('two shots closer than the wand takes to settle are made each at its own aim: %s', (_, aims, expected) => {
  const prepared = firstLight({});
  const plans = aims.map((aim, i) => ({ aim, atMs: 500 + 190 * i, squeezeMs: 30 }));
  const script = new ScriptedSession(prepared, plans);
  const outcomes = Array.from({ length: 90 }, () => script.runFrame()).flat();
  const seen = outcomes.map((outcome) => (outcome.kind === 'judged' ? outcome.result.judgement : outcome.error.code));
  expect(seen).toEqual(expected);
  expect(script.pulls).toEqual(['shot', 'shot']);
});
