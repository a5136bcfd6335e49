import { describe, expect, test } from 'vitest';
import { KeptTexts, type Memory } from './kept-texts.ts';

/** A storage that takes so many texts. */
function memoryOf(room: number): { memory: Memory; texts: Map<string, string> } {
  const texts = new Map<string, string>();
  const memory: Memory = {
    getItem: (name) => texts.get(name) ?? null,
    setItem: (name, text) => {
      if (!texts.has(name) && texts.size >= room) throw new Error('full');
      texts.set(name, text);
    },
    removeItem: (name) => void texts.delete(name),
  };
  return { memory, texts };
}

function kept(memory: () => Memory): { texts: KeptTexts; refusals: () => number } {
  let refusals = 0;
  return { texts: new KeptTexts(memory, () => refusals++), refusals: () => refusals };
}

describe('texts that are kept', () => {
  test('what cannot be read gets a name of its own, and nothing that lies there is replaced', () => {
    const { memory, texts } = memoryOf(10);
    const { texts: store } = kept(() => memory);
    for (const text of ['one', 'two']) {
      store.put('bench', text);
      store.putAside('bench');
    }
    expect(Object.fromEntries(texts)).toEqual({ 'bench.unread-1': 'one', 'bench.unread-2': 'two' });
    expect(store.putAside('bench')).toBeUndefined();
  });

  test('where there is no room it stays where it was, and that is told', () => {
    const { memory, texts } = memoryOf(1);
    const { texts: store, refusals } = kept(() => memory);
    expect(store.put('bench', 'one')).toBe(true);
    expect(store.putAside('bench')).toBeUndefined();
    expect(store.put('other', 'two')).toBe(false);
    expect([...texts]).toEqual([['bench', 'one']]);
    expect(refusals()).toBe(2);
  });

  test('a browser that refuses its storage is as one that kept nothing', () => {
    const { texts: store, refusals } = kept(() => {
      throw new Error('private');
    });
    expect(store.get('bench')).toBeUndefined();
    expect(store.put('bench', 'one')).toBe(false);
    store.remove('bench');
    expect(refusals()).toBe(1);
  });
});
