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

/** A desk that may show full flashes: asked once, answered once. */
function allowed(time: ReturnType<typeof clock>): RenderingDesk {
  const desk = new RenderingDesk(host, time);
  desk.choose('full');
  desk.answer(true);
  desk.choose('outline');
  time.pass(5000);
  return desk;
}

test('before the first full flashes somebody is asked: the choice is what it was, and stays so unless they are allowed', () => {
  const time = clock();
  const desk = new RenderingDesk(host, time);
  desk.choose('reduced');
  const standing = () => [desk.chosen, desk.shown, desk.isAsking];
  desk.choose('full');
  expect(standing()).toEqual(['reduced', 'reduced', true]);
  time.pass(5000);
  expect(standing()).toEqual(['reduced', 'reduced', true]);
  desk.answer(false);
  expect(standing()).toEqual(['reduced', 'reduced', false]);
  desk.choose('full');
  expect(standing()).toEqual(['reduced', 'reduced', true]);
  desk.answer(true);
  expect(standing()).toEqual(['full', 'full', false]);
});

test('what is chosen instead is shown, and an answer that comes after it shows no flash', () => {
  const desk = new RenderingDesk(host, clock());
  desk.choose('full');
  desk.choose('reduced');
  desk.answer(true);
  expect([desk.chosen, desk.shown, desk.isAsking]).toEqual(['reduced', 'reduced', false]);
  desk.choose('full');
  expect([desk.shown, desk.isAsking]).toEqual(['reduced', true]);
});

test('who has allowed them is not asked again', () => {
  const desk = allowed(clock());
  desk.choose('full');
  expect([desk.shown, desk.isAsking]).toEqual(['full', false]);
});

test('full flashes are shown at once and left at once, and come back a second after they were left', () => {
  const time = clock();
  const desk = allowed(time);
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
  const desk = allowed(time);
  for (const rendering of ['full', 'outline', 'full', 'reduced'] as const) desk.choose(rendering);
  time.pass(5000);
  expect([desk.chosen, desk.shown]).toEqual(['reduced', 'reduced']);
});

test('a key that is held down, 30 choices a second: the page grows and shrinks at most three times in any second', () => {
  const time = clock();
  const desk = allowed(time);
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
