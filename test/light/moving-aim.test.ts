import { describe, expect, test } from 'vitest';
import { type AimMove, historyCapacity, LightPath, type LightPathSettings } from '../../src/light/light-path.ts';
import { PictureHistory } from '../../src/picture/picture.ts';
import { ticksPerFrame, ticksPerLine } from '../../src/units/timing.ts';
import {
  beginPicture,
  delay,
  draws,
  hashOf,
  lamp,
  lcd,
  patchwork,
  play,
  STANDARD,
  spot,
  TIMING_60 as timing,
  tube,
} from './light-bench.ts';

const FRAMES = 30;
const frame = ticksPerFrame(timing);
const end = FRAMES * frame;
const PATCHWORK = patchwork(11);
const FROM = { x: 60, y: 40 };
const TO = { x: 131.3, y: 168.6 };
const WHITE_CD_M2 = 350;
/** Derived: two pictures are remembered of these panels, 33 ms and more; the slowest of them forgets 1 in 100,000 till then. */
const REMEMBERED = 1e-5;
/** Line in whose vertical blank every path is asked. */
const VBLANK = 241;

const PATHS: readonly { readonly name: string; readonly settings: LightPathSettings }[] = [
  { name: 'tube', settings: { ...STANDARD, stages: [], panel: tube(), optics: spot(6) } },
  { name: 'tube behind a delay', settings: { ...STANDARD, stages: [delay(41.3)], panel: tube(), optics: spot(3) } },
  { name: 'LCD', settings: { ...STANDARD, panel: lcd(), optics: spot(6) } },
  { name: 'LCD behind a frame buffer', settings: { ...STANDARD, stages: [{ kind: 'frame-buffer', frames: 2 }] } },
  {
    name: 'LCD with a switched backlight, in flickering light',
    settings: { ...STANDARD, panel: lcd({ pwmHz: 240, pwmDuty01: 0.4 }), room: lamp() },
  },
];

describe.each(PATHS)('$name', ({ settings }) => {
  const make = (history: PictureHistory, aim = FROM, moves: readonly AimMove[] = []) =>
    new LightPath({ settings, timing, history, aim, moves });
  const draw = draws(5, 1);
  const someTick = (from = 2 * frame, to = end - frame) => Math.floor(draw(from, to));

  test('after a move the light is that of a path that looked there all along', () => {
    for (let i = 0; i < 5; i++) {
      const move = { tick: someTick(), aim: TO };
      const history = play({ paint: PATCHWORK, frames: FRAMES });
      const [moved, still] = [make(history, FROM, [move]), make(history, TO)];
      for (let tick = move.tick; tick < end; tick += someTick(0, frame)) {
        expect(Math.abs(moved.lightAt(tick) - still.lightAt(tick))).toBeLessThan(REMEMBERED * WHITE_CD_M2);
      }
      expect(moved.sees.firstLine).toBe(make(history).sees.firstLine);
      expect(moved.sees.lastLine).toBe(still.sees.lastLine);
    }
  });

  test('a history as long as it says remembers the panel to 0.1 %', () => {
    const move = { tick: 20 * frame + 12_345, aim: TO };
    const history = new PictureHistory(historyCapacity(settings, timing, true));
    const moved = make(history, FROM, [move]);
    for (let n = 0; n < FRAMES; n++) {
      const tick = beginPicture(history, PATCHWORK, n, timing);
      if (n > 0) moved.bitAt(tick);
    }
    const still = make(play({ paint: PATCHWORK, frames: FRAMES }), TO);
    const tick = Math.max(move.tick, moved.save().tick);
    expect(Math.abs(moved.lightAt(tick) - still.lightAt(tick))).toBeLessThan(1e-3 * WHITE_CD_M2);
  });

  test('it makes no difference when a move was announced or how often the path is asked, to the byte', () => {
    const moves = [
      { tick: 7 * frame + 1234, aim: TO },
      { tick: 7 * frame + 1234, aim: { x: -100, y: 20 } },
      { tick: 15 * frame + 99, aim: FROM },
    ];
    const reference = make(play({ paint: PATCHWORK, frames: FRAMES }), FROM, moves);
    reference.bitAt(end);
    const path = make(play({ paint: PATCHWORK, frames: FRAMES }));
    let announced = 0;
    for (let tick = 0; tick < end; tick += someTick(1, frame)) {
      while (announced < 3 && moves[announced]!.tick <= tick + frame) path.moveAim(moves[announced++]!);
      path.bitAt(tick);
      path.lightAt(tick + 1000);
      const again = make(play({ paint: PATCHWORK, frames: FRAMES }));
      again.load(path.save());
      expect(hashOf(again.save())).toBe(hashOf(path.save()));
    }
    path.bitAt(end);
    expect(hashOf(path.save())).toBe(hashOf(reference.save()));
    expect(path.aim).toEqual(FROM);
  });

  test('nor how far ahead of the console it was asked, and how much more than it must the history keeps', () => {
    const hand = draws(7, 2);
    const moves: AimMove[] = [];
    for (let tick = frame; tick < end - frame; tick += hand(frame / 5, frame))
      moves.push({ tick: Math.floor(tick), aim: { x: FROM.x + hand(-20, 20), y: FROM.y + hand(-20, 20) } });
    const capacity = historyCapacity(settings, timing, true);
    const looks = () => Array.from({ length: 5 }, () => [hand(0, frame), hand(0, 8 * frame)] as const);
    const once = asked(moves, capacity, () => []);
    for (const other of [asked(moves, capacity, looks), asked(moves, FRAMES + 16, () => [])]) {
      expect(other.flips).toEqual(once.flips);
      expect(hashOf({ ...other, askedTick: 0 })).toBe(hashOf({ ...once, askedTick: 0 }));
    }
  });

  /** A console that puts out picture after picture, asked once in each, and when else it says: ticks after its begin, how far ahead. */
  function asked(
    moves: readonly AimMove[],
    capacity: number,
    looks: () => readonly (readonly [after: number, ahead: number])[],
  ) {
    const history = new PictureHistory(capacity);
    const path = make(history, FROM, moves);
    for (let n = 0; n < FRAMES; n++) {
      const begun = beginPicture(history, PATCHWORK, n, timing);
      const often = looks().map(([after, ahead]) => [Math.floor(begun + after), Math.floor(ahead)] as const);
      for (const [tick, ahead] of often.sort(([a], [b]) => a - b))
        if (tick < begun + VBLANK * ticksPerLine(timing)) path.bitConstantUntil(tick, Math.min(end, tick + ahead));
      path.bitAt(begun + VBLANK * ticksPerLine(timing));
    }
    path.bitAt(end);
    return path.save();
  }

  test('a move that is due already is refused', () => {
    const path = make(play({ paint: PATCHWORK, frames: FRAMES }));
    path.bitAt(frame);
    expect(() => path.moveAim({ tick: frame, aim: TO })).toThrow(/tick of a move is \d+/);
    expect(() => path.moveAim({ tick: frame + 1, aim: { x: 9999, y: 0 } })).toThrow(/aim\.x/);
  });

  test('moves are taken together or not at all, and what they see is known, after loading as well', () => {
    const path = make(play({ paint: PATCHWORK, frames: FRAMES }));
    const before = path.sees;
    expect(() =>
      path.moveAims([
        { tick: 50, aim: TO },
        { tick: 20, aim: FROM },
      ]),
    ).toThrow(/tick of a move is 20/);
    expect(() =>
      path.moveAims([
        { tick: 50, aim: TO },
        { tick: 60, aim: { x: 9999, y: 0 } },
      ]),
    ).toThrow(/aim\.x/);
    expect([path.movesToCome, path.sees]).toEqual([[], before]);
    // The highest aim looks past the screen: the next one counts.
    const moves = [{ x: -200, y: 10 }, { x: 128, y: 80 }, TO].map((aim, i) => ({ tick: frame + i, aim }));
    path.moveAims(moves);
    expect(path.sees.firstLine).toBeLessThanOrEqual(before.firstLine);
    expect(path.sees.lastLine).toBe(make(play({ paint: PATCHWORK, frames: 2 }), TO).sees.lastLine);
    const loaded = make(play({ paint: PATCHWORK, frames: FRAMES }), TO);
    loaded.load(path.save());
    expect(loaded.sees.firstLine).toBe(path.sees.firstLine);
    expect(loaded.sees.lastLine).toBe(path.sees.lastLine);
  });

  test('the bit is constant as long as it says, whatever the console puts out next', () => {
    const reference = make(play({ paint: PATCHWORK, frames: FRAMES }));
    reference.bitAt(end);
    let longest = 0;
    for (let i = 0; i < 20; i++) {
      const now = someTick();
      const limit = now + someTick(1, frame);
      const answers = [PATCHWORK, patchwork(12)].map((later) => make(cutAt(now, later)).bitConstantUntil(now, limit));
      expect(answers[1]).toBe(answers[0]);
      const until = answers[0]!;
      expect(until).toBeGreaterThan(now);
      expect(until).toBeLessThanOrEqual(limit);
      expect(reference.flips.filter((tick) => tick > now && tick < until)).toEqual([]);
      longest = Math.max(longest, until - now);
    }
    expect(longest).toBeGreaterThan(frame / 10);
  });

  /** The reel as it stands at a tick: dots that have not left the plug are those of another one, later pictures have not begun. */
  function cutAt(now: number, later: typeof PATCHWORK): PictureHistory {
    const history = new PictureHistory(FRAMES + 16);
    for (let n = 0; n * frame - n * 4 <= now; n++) {
      const tick = n * frame - Math.floor(n / 2) * timing.dotDivider;
      if (tick > now) break;
      beginPicture(history, PATCHWORK, n, timing);
      const { codes } = history.get(n)!;
      const other = codes.slice();
      later(other, n + 1);
      for (let at = 0; at < codes.length; at++) {
        const leaves = tick + Math.floor(at / 256) * ticksPerLine(timing) + (at % 256) * timing.dotDivider;
        if (leaves >= now) codes[at] = other[at]!;
      }
    }
    return history;
  }
});
