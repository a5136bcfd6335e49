import { expect, test } from 'vitest';
import { HeldButtons, padButton, wandStep } from './pad-keys.ts';

const key = (code: string, held: Partial<KeyboardEvent> = {}): KeyboardEvent =>
  ({ code, shiftKey: false, ctrlKey: false, metaKey: false, altKey: false, ...held }) as KeyboardEvent;

test('the pad in the order in which it sends its buttons: A, B, Select, Start, up, down, left, right', () => {
  const codes = ['KeyK', 'KeyJ', 'KeyQ', 'Enter', 'KeyW', 'KeyS', 'KeyA', 'KeyD'];
  expect(codes.map((code) => padButton(key(code)))).toEqual([1, 2, 4, 8, 16, 32, 64, 128]);
});

test('a shortcut of the browser is no button', () => {
  expect(padButton(key('KeyW', { ctrlKey: true }))).toBe(0);
  expect(padButton(key('KeyX'))).toBe(0);
});

test.each([
  ['ArrowLeft', {}, [-1, 0]],
  ['ArrowDown', { shiftKey: true }, [0, 8]],
  ['ArrowRight', { ctrlKey: true }, [32, 0]],
  ['KeyA', {}, undefined],
] as const)('%s %o moves the wand by %o', (code, held, step) => expect(wandStep(key(code, held))).toEqual(step));

test('a key that was down for no time is held for two frames; one that stays down as long as it stays', () => {
  const buttons = new HeldButtons();
  buttons.press(4);
  buttons.release(4);
  const seen = [buttons.held];
  buttons.ran(1);
  seen.push(buttons.held);
  buttons.ran(1);
  seen.push(buttons.held);
  buttons.press(8);
  buttons.press(8); // the key repeats
  buttons.ran(5);
  seen.push(buttons.held);
  buttons.release(8);
  expect([...seen, buttons.held]).toEqual([4, 4, 0, 8, 0]);
});

test('a pause lets go of everything', () => {
  const buttons = new HeldButtons();
  buttons.press(1);
  buttons.releaseAll();
  expect(buttons.held).toBe(0);
});
