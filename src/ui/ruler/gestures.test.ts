import { expect, test } from 'vitest';
import { Gestures } from './gestures.ts';

test('a pointer that hardly moves has clicked, one that moves drags', () => {
  const gestures = new Gestures();
  expect(gestures.move(1, 5)).toEqual({ kind: 'hover', x: 5 });
  gestures.down(1, 10);
  expect(gestures.move(1, 12)).toBeUndefined();
  expect(gestures.up(1, true)).toEqual({ kind: 'click', x: 10, isShifted: true });
  gestures.down(1, 10);
  expect(gestures.move(1, 20)).toEqual({ kind: 'drag', x: 20, byX: 10 });
  expect(gestures.move(1, 17)).toEqual({ kind: 'drag', x: 17, byX: -3 });
  expect(gestures.up(1, false)).toBeUndefined();
});

test('two pointers that move apart zoom in around their middle, and leave no click', () => {
  const gestures = new Gestures();
  gestures.down(1, 100);
  gestures.down(2, 200);
  expect(gestures.move(2, 300)).toEqual({ kind: 'pinch', factor: 0.5, x: 200, byX: 50 });
  expect(gestures.move(1, 100)).toEqual({ kind: 'pinch', factor: 1, x: 200, byX: 0 });
  expect(gestures.up(1, false)).toBeUndefined();
  expect(gestures.up(2, false)).toBeUndefined();
  expect(gestures.isIdle).toBe(true);
});
