import { describe, expect, test } from 'vitest';
import type { ObservationStart } from './cause/observation.ts';
import { LiveMoments } from './live-moments.ts';

const LEAD = 400;
const SQUEEZE = 50;
const AIM = { x: 128, y: 112 };

/** Moments of a session that stands at `tick`; a state is known by the tick at which it was taken. Nobody looks into it. */
class Kept {
  readonly moments: LiveMoments;
  tick: number;
  count = 0;

  constructor(tick = 0) {
    this.tick = tick;
    this.moments = new LiveMoments(tick, LEAD, tick === 0, () => {
      this.count++;
      return { tick: this.tick } as unknown as ObservationStart;
    });
  }

  /** Frames of ten ticks up to a tick. */
  run(tick: number): this {
    while (this.tick < tick) {
      this.tick += 10;
      this.moments.frameDone(this.tick);
    }
    return this;
  }

  /** A shot that is over soon; answers what it is run again from. */
  shoot(): ReturnType<LiveMoments['take']> {
    const pull = { aim: AIM, tick: this.tick, squeezeMs: 80 };
    this.moments.close({ pull, toTick: this.tick + SQUEEZE });
    this.moments.begin(pull);
    this.run(this.tick + 100);
    return this.moments.take(this.tick);
  }
}

const tickOf = (kept: ReturnType<LiveMoments['take']>): number => (kept!.moment as unknown as { tick: number }).tick;

describe('the state that a shot is run again from', () => {
  test.each([1500, 1540, 1590, 1620, 4000])('at tick %i it lies a lead before, and not a third more', (tick) => {
    const before = tick - tickOf(new Kept(1000).run(tick).shoot());
    expect(before).toBeGreaterThanOrEqual(LEAD);
    expect(before).toBeLessThanOrEqual(LEAD + LEAD / 4 + 10);
  });

  test('is power-on for the first shots', () => {
    expect(tickOf(new Kept().run(50).shoot())).toBe(0);
    expect(tickOf(new Kept().run(390).shoot())).toBe(0);
  });

  test('is none shortly after something else than power-on', () => {
    expect(new Kept(1000).run(1390).shoot()).toBeUndefined();
  });

  test('stays that of the shot however long the shot takes', () => {
    const kept = new Kept(1000).run(2000);
    const pull = { aim: AIM, tick: 2000, squeezeMs: 80 };
    kept.moments.begin(pull);
    kept.moments.move({ tick: 2000, aim: { x: 5, y: 5 } });
    const over = kept.run(9000).moments.take(9000)!;
    expect(over.shot).toBe(pull);
    expect(2000 - tickOf(over)).toBeLessThanOrEqual(LEAD + LEAD / 4 + 10);
    expect(over.moves.length).toBe(1);
  });

  test('is taken four times a lead', () => {
    expect(new Kept().run(LEAD * 10).count).toBe(41);
  });
});

describe('what hand and pad have done since', () => {
  test('moves at the instant of the state and later', () => {
    const kept = new Kept();
    for (let tick = 0; tick < 3000; tick += 10) {
      kept.run(tick).moments.move({ tick, aim: { x: tick / 100, y: 5 } });
    }
    const over = kept.shoot();
    expect(over!.moves.map(({ tick }) => tick)[0]).toBe(tickOf(over));
    expect(over!.moves.length).toBe((2990 - tickOf(over)) / 10 + 1);
  });

  test('buttons: held since before the state, let go within, held on to the end, on both pads', () => {
    const kept = new Kept();
    kept.moments.hold(1, 0b101, 0);
    kept.run(900).moments.hold(1, 0b001, 900);
    kept.run(1000).moments.hold(2, 0b10, 1000);
    expect(kept.shoot()!.presses).toEqual([
      { port: 1, button: 'A', fromTick: 0, toTick: 1100 },
      { port: 1, button: 'Select', fromTick: 0, toTick: 900 },
      { port: 2, button: 'B', fromTick: 1000, toTick: 1100 },
    ]);
  });

  test('what was over before the state is left out', () => {
    const kept = new Kept();
    kept.moments.hold(1, 1, 0);
    kept.moments.hold(1, 0, 50);
    kept.moments.move({ tick: 0, aim: AIM });
    kept.shoot();
    expect(kept.run(3000).shoot()).toMatchObject({ moves: [], presses: [], pulls: [] });
  });

  test('pulls before the shot whose contact was closed at the state or later', () => {
    const kept = new Kept(1000);
    const early = { aim: AIM, tick: 970, squeezeMs: 80 };
    kept.moments.close({ pull: early, toTick: 1020 });
    kept.run(1300).shoot();
    const over = kept.run(1450).shoot()!;
    expect(tickOf(over)).toBe(1000);
    expect(over.pulls.map(({ tick }) => tick)).toEqual([970, 1300]);
    expect(over.shot.tick).toBe(1450);
  });
});
