import { expect, test } from 'vitest';
import { FIRST_STATE } from '../../src/ui/bench/bench-state.ts';
import { LivePlay } from '../../src/workers/play-service.ts';
import { screen } from '../lamplighter.ts';
import { rehearsedShot } from './rehearsed-shot.ts';

test('the page says what the command says: the lamp is there, but its glass did not show it yet', () => {
  const play = new LivePlay();
  const { judgement, text } = rehearsedShot(play, {
    ...FIRST_STATE,
    strategy: 'calibrated',
    lightPath: screen(450),
  });
  expect(judgement).toBe('rightly none');
  expect(text).toMatch(/The console already has target 0 at the aim, .* Shoot later to aim at it\.$/);
});

test('a target that is smaller than the spot is named with its share', () => {
  const play = new LivePlay();
  const optics = { kind: 'gaussian-spot', radiusDots: 40 };
  const { text } = rehearsedShot(play, { ...FIRST_STATE, lightPath: { ...FIRST_STATE.lightPath, optics } });
  expect(text).toMatch(/Target 0 is smaller than the spot: even at its centre the share is 0\.\d+\./);
});

test('a program that refuses its calibration is called that, as while playing', () => {
  const late = { kind: 'pure-delay', delayMs: 500 };
  const outcome = rehearsedShot(new LivePlay(), {
    ...FIRST_STATE,
    strategy: 'calibrated',
    lightPath: { ...FIRST_STATE.lightPath, stages: [late, late] },
  });
  expect(outcome).toMatchObject({ judgement: 'calibration refused', isRight: false, lanes: null });
  expect(outcome.text).toMatch(/^The program has refused to calibrate on this light/);
});
