import { describe, expect, test } from 'vitest';
import type { AimEvent } from '../bench-picture.ts';
import { WandDesk } from './wand-desk.ts';

const LAMP = { x: 132, y: 120 };
const FIRST = { x: 20, y: 20 };

/** A mouse over the picture, at times of its own. */
function mouse(isRunning: () => boolean) {
  const host = { addController() {}, removeController() {}, requestUpdate() {}, updateComplete: Promise.resolve(true) };
  const wand = new WandDesk(host, FIRST, isRunning);
  return {
    wand,
    move: (x: number, y: number, timeStamp: number) =>
      wand.follow({ aim: { x, y }, isPressed: false, timeStamp } as AimEvent),
    press: (x: number, y: number, timeStamp: number) =>
      wand.follow({ aim: { x, y }, isPressed: true, timeStamp } as AimEvent),
    leave: (timeStamp: number) => wand.gone({ timeStamp } as Event),
  };
}

describe('a mouse that leaves the picture', () => {
  test('leaves the wand where it stood, not at the edge that it passed', () => {
    const { wand, move, leave } = mouse(() => true);
    move(100, 100, 1000);
    move(LAMP.x, LAMP.y, 1010);
    expect(wand.aim).toEqual(LAMP);
    for (let k = 1; k <= 12; k++) move(LAMP.x + 10 * k, LAMP.y, 1200 + 8 * k);
    expect(wand.aim).toEqual({ x: 252, y: 120 });
    leave(1300);
    expect(wand.aim).toEqual(LAMP);
  });

  test('that jumps out from where it stands, too', () => {
    const { wand, move, leave } = mouse(() => true);
    move(LAMP.x, LAMP.y, 1000);
    leave(1400);
    expect(wand.aim).toEqual(LAMP);
  });

  test('a pull is where it stood, however quick', () => {
    const { wand, move, press, leave } = mouse(() => true);
    press(LAMP.x, LAMP.y, 1000);
    move(255, 10, 1010);
    leave(1012);
    expect(wand.aim).toEqual(LAMP);
  });

  test('that never stood leaves it where it was before', () => {
    const { wand, move, leave } = mouse(() => true);
    for (let k = 0; k < 20; k++) move(10 * k, 50, 1000 + 10 * k);
    leave(1200);
    expect(wand.aim).toEqual(FIRST);
  });
});

test('while nothing runs a mouse that passes moves nothing; one that presses does', () => {
  let isRunning = true;
  const { wand, move, press, leave } = mouse(() => isRunning);
  move(LAMP.x, LAMP.y, 1000);
  isRunning = false;
  move(200, 30, 1500);
  move(210, 30, 1510);
  expect(wand.aim).toEqual(LAMP);
  leave(1520);
  expect(wand.aim).toEqual(LAMP);
  press(52, 36, 2000);
  expect(wand.aim).toEqual({ x: 52, y: 36 });
});
