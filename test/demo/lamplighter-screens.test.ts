import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { Lamplighter } from '../lamplighter.ts';
import { runBuilt } from '../run-built.ts';

test('every screen is printed as a PNG file, and no two are alike', () => {
  const folder = mkdtempSync(join(tmpdir(), 'latelight-screens-'));
  try {
    const names = runBuilt('test/demo/print-screens.ts', folder) as string[];
    expect(names).toContain('game-over');
    const files = names.map((name) => readFileSync(join(folder, `${name}.png`)).toString('base64'));
    for (const file of files) expect(file.startsWith('iVBORw0KGgo')).toBe(true); // the signature of the PNG specification
    expect(new Set(files).size).toBe(names.length);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});

describe('the game', () => {
  const playing = (): Lamplighter => {
    const machine = new Lamplighter({ strategy: 'same-frame-untested' });
    machine.runFrames(40);
    machine.press('Start');
    machine.runFrames(20);
    return machine;
  };
  const score = (machine: Lamplighter): number =>
    [5, 4, 3, 2, 1, 0].reduce((sum, digit) => sum * 10 + machine.byte('score', digit), 0);

  test('a spark that goes astray costs oil, and the oil runs out', () => {
    const machine = playing();
    const before = machine.byte('oil', 1);
    machine.pull();
    machine.runFrames(20);
    expect(before - machine.byte('oil', 1)).toBeGreaterThanOrEqual(3);
    expect(machine.runUntil(() => machine.says('THE OIL HAS RUN OUT'), 6000)).toBe(true);
    expect(score(machine)).toBe(0);
  });

  test('a pause stops the world; Start goes on', () => {
    const machine = playing();
    machine.press('Start');
    expect(machine.says('PAUSED')).toBe(true);
    const oil = machine.word('oil');
    machine.runFrames(300);
    expect(machine.word('oil')).toBe(oil);
    machine.press('Start');
    machine.runFrames(8);
    expect(machine.says('PAUSED')).toBe(false);
    expect(machine.word('oil')).not.toBe(oil);
  });

  test('after the game is over a second one begins with nothing left of the first', () => {
    const machine = playing();
    expect(machine.runUntil(() => machine.says('THE OIL HAS RUN OUT'), 6000)).toBe(true);
    machine.runFrames(70);
    machine.press('Start');
    expect(machine.says('START OR TRIGGER: PLAY')).toBe(true);
    machine.press('Start');
    machine.runFrames(20);
    expect(machine.says('SCORE 000000')).toBe(true);
    expect(machine.byte('oil', 1)).toBeGreaterThan(60);
    expect([0, 1, 2].map((k) => machine.byte('targetLive', k))).toEqual([1, 1, 1]);
  });

  test('lamps that are hit burn, moths come, and a street in peace is followed by the next', () => {
    let isLit = true;
    const machine = new Lamplighter({ strategy: 'same-frame-untested', light: () => isLit });
    machine.runFrames(40);
    machine.press('Start');
    machine.runFrames(20);
    const hasMoth = (): boolean => [0, 1, 2].some((k) => [2, 3].includes(machine.byte('placeState', k)));
    let sawMoth = false;
    // Light everywhere makes untested code hit the first target that there is, again and again.
    const isNext = machine.runUntil(() => {
      isLit = [0, 1, 2].some((k) => machine.byte('targetLive', k) === 1);
      sawMoth ||= hasMoth();
      machine.trigger = isLit && Math.floor(machine.tick / 7_000_000) % 2 === 0;
      return machine.byte('street') === 1;
    }, 3000);
    expect([isNext, sawMoth]).toEqual([true, true]);
    expect(score(machine)).toBe(3 * 50 + 2 * 100 + 500);
  });
});
