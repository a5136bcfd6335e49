import { describe, expect, test } from 'vitest';
import { runShot, type ShotOptions, type ShotResult } from '../../src/shot/shot.ts';
import { hashNoise } from '../../src/units/noise.ts';
import { firstLight } from '../first-light.ts';

const ON_LAMP = { x: 128, y: 112 };
const BESIDE = { x: 40, y: 200 };

describe('earlier pulls of the trigger', () => {
  test('each with its own aim: the lamp is hit before, the shot goes beside', () => {
    const pulls = [{ aim: ON_LAMP, atMs: 400 }];
    const shots = [{ aim: BESIDE, atMs: 900 }];
    const { judgement, flips, ticks } = runShot(firstLight({ pulls, shots }), 0);
    expect(judgement).toBe('rightly none');
    expect(flips.some((tick) => tick < ticks.trigger)).toBe(true);
    const without = runShot(firstLight({ shots }), 0);
    expect(without.judgement).toBe('rightly none');
    expect(without.flips.length).toBeLessThan(flips.length);
  });

  test('the shot that follows a pull beside the lamp is a hit', () => {
    const pulls = [{ aim: BESIDE, atMs: 400 }];
    expect(runShot(firstLight({ pulls, shots: [{ aim: ON_LAMP, atMs: 900 }] }), 0).judgement).toBe('hit');
  });

  test('a shot needs the wand to settle after the last pull', () => {
    const pulls = [{ aim: BESIDE, atMs: 400, squeezeMs: 100 }];
    expect(() => firstLight({ pulls, shots: [{ aim: ON_LAMP, atMs: 600 }] })).toThrow(
      'shots.0.atMs: found 600, allowed 700 or more: the end of the pull before and settleMs (200)',
    );
  });
});

test('drawing only the lines of the aim changes nothing in 60 random shots', () => {
  const seen = new Set<string>();
  for (let i = 0; i < 60; i++) {
    const draw = (stream: number, low: number, high: number) => low + (high - low) * hashNoise(23, stream, i);
    const aim = () => ({ x: 128 + draw(1, -20, 20), y: 112 + draw(2, -24, 24) });
    const setting = {
      pulls: i % 3 === 0 ? [{ aim: BESIDE, atMs: 200 }] : [],
      shots: [{ aim: i % 7 === 0 ? { x: 300, y: -30 } : aim(), atMs: draw(3, 500, 530) }],
      lightPath: {
        stages: i % 2 === 0 ? [] : [{ kind: 'pure-delay', delayMs: draw(4, 0, 20) }],
        panel: i % 4 < 2 ? { kind: 'beam-tube' } : { kind: 'lcd', riseMs: draw(5, 1, 9) },
      },
    };
    const shoot = (options: ShotOptions): ShotResult => runShot(firstLight(setting), 0, options);
    const all = shoot({ draws: 'all' });
    expect(shoot({ draws: 'aim' })).toEqual(all);
    seen.add(all.judgement);
  }
  expect([...seen].sort()).toEqual(['edge', 'false hit', 'hit', 'miss', 'rightly none']);
});
