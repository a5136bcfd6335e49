import { expect, test } from 'vitest';
import type { Rendering } from '../../workers/play.api.ts';
import { RenderingDesk } from './rendering-desk.ts';

/** A clock that is set by hand. */
function clock() {
  let nowMs = 0;
  let due: { readonly atMs: number; readonly act: () => void } | undefined;
  return {
    nowMs: () => nowMs,
    later: (act: () => void, ms: number) => {
      due = { atMs: nowMs + ms, act };
      return () => {
        due = undefined;
      };
    },
    pass: (ms: number) => {
      nowMs += ms;
      if (due === undefined || nowMs < due.atMs) return;
      const { act } = due;
      due = undefined;
      act();
    },
  };
}

const host = {
  requestUpdate: () => {},
  addController: () => {},
  removeController: () => {},
  updateComplete: Promise.resolve(true),
};

test('full flashes are shown at once and left at once, and come back a second after they were left', () => {
  const time = clock();
  const desk = new RenderingDesk(host, time);
  desk.choose('full');
  expect(desk.shown).toBe('full');
  desk.choose('outline');
  expect(desk.shown).toBe('outline');
  time.pass(100);
  desk.choose('full');
  expect([desk.chosen, desk.shown]).toEqual(['full', 'outline']);
  time.pass(900);
  expect(desk.shown).toBe('outline');
  time.pass(100);
  expect(desk.shown).toBe('full');
});

test('whoever thinks again is not shown them', () => {
  const time = clock();
  const desk = new RenderingDesk(host, time);
  for (const rendering of ['full', 'outline', 'full', 'reduced'] as const) desk.choose(rendering);
  time.pass(5000);
  expect([desk.chosen, desk.shown]).toEqual(['reduced', 'reduced']);
});

test('a key that is held down, 30 choices a second: the page grows and shrinks at most three times in any second', () => {
  const time = clock();
  const desk = new RenderingDesk(host, time);
  const order: readonly Rendering[] = ['outline', 'reduced', 'full'];
  const switches: number[] = [];
  let wasFull = false;
  for (let k = 0; k < 300; k++) {
    desk.choose(order[k % 3]!);
    time.pass(1000 / 30);
    if ((desk.shown === 'full') !== wasFull) switches.push(time.nowMs());
    wasFull = desk.shown === 'full';
  }
  for (const endMs of switches)
    expect(switches.filter((atMs) => atMs <= endMs && atMs >= endMs - 1000).length).toBeLessThanOrEqual(3);
});
