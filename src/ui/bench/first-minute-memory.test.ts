import { expect, test } from 'vitest';
import { type FirstMinuteProgress, type Memory, NOT_BEGUN, recalled, remember } from './first-minute-memory.ts';

/** A browser's storage with these entries. */
function memoryOf(entries: Record<string, string> = {}): () => Memory {
  const kept = new Map(Object.entries(entries));
  return () => ({ getItem: (key) => kept.get(key) ?? null, setItem: (key, value) => void kept.set(key, value) });
}

const saying = (text: string): (() => Memory) => memoryOf({ 'latelight.first-minute': text });

test.each<FirstMinuteProgress>([
  { isOpen: true, seen: [] },
  { isOpen: false, seen: ['hit', 'miss'] },
  { isOpen: true, seen: ['hit', 'wrong target', 'no decision'] },
])('what is remembered is recalled: %j', (progress) => {
  const memory = memoryOf();
  remember(memory, progress);
  expect(recalled(memory, 3)).toEqual(progress);
});

test.each([
  'no JSON',
  'null',
  '7',
  '{"version":2,"isOpen":true,"seen":["hit"]}',
  '{"version":1,"isOpen":1,"seen":["hit"]}',
  '{"version":1,"isOpen":true,"seen":"hit"}',
  '{"version":1,"isOpen":true,"seen":["hit",3]}',
  '{"version":1,"isOpen":true,"seen":["<b>hit</b>"]}',
  '{"version":1,"isOpen":true,"seen":["hit","miss","hit","hit"]}',
])('%s is as if it had not begun', (text) => {
  expect(recalled(saying(text), 3)).toEqual(NOT_BEGUN);
});

test('a browser that refuses its storage is no fault', () => {
  const refusing = (): Memory => {
    throw new Error('The operation is insecure');
  };
  expect(recalled(refusing, 3)).toEqual(NOT_BEGUN);
  remember(refusing, { isOpen: false, seen: ['hit'] });
  const full = (): Memory => ({ getItem: () => null, setItem: refusing });
  remember(full, { isOpen: false, seen: ['hit'] });
});
