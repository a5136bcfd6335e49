import { describe, expect, test } from 'vitest';
import { observeLiveShot } from '../../src/shot/cause/live-observation.ts';
import { leadTicks, observeShot } from '../../src/shot/cause/observation.ts';
import type { PreparedScenario } from '../../src/shot/prepared-scenario.ts';
import { Shot, type ShotResult } from '../../src/shot/shot.ts';
import { msToTicks, ticksPerFrame } from '../../src/units/timing.ts';
import { Lot } from '../cause/plants/lot.ts';
import { FIRST_LIGHT, prepareTarget } from '../cause/plants/target.ts';
import { hashOf } from '../light/light-bench.ts';

/** Shots of a kind of panel; each is run in six ways. */
const SHOTS = 3;
/** Share of a frame behind which the raster is in its vertical blank for certain. */
const BLANK = 242 / 262;
const PANELS = ['fast LCD', 'slow LCD', 'LCD with a switched backlight', 'tube'] as const;

function panelOf(kind: (typeof PANELS)[number], lot: Lot): unknown {
  if (kind === 'tube') return { kind: 'beam-tube', whiteCdM2: lot.number(60, 200) };
  const [low, high] = kind === 'slow LCD' ? [6, 25] : [0.5, 6];
  const pwm = kind === 'LCD with a switched backlight' ? { pwmHz: lot.number(100, 900), pwmDuty01: 0.5 } : {};
  return { kind: 'lcd', riseMs: lot.number(low, high), fallMs: lot.number(low, high), ...pwm };
}

/** A hand that goes far, and moves in every vertical blank of the first half second, over a program that looks for long, through any stages and into any sensor. */
function movingHand(kind: (typeof PANELS)[number], lot: Lot): PreparedScenario {
  const stages = [
    [],
    [{ kind: 'pure-delay', delayMs: lot.number(0, 90) }],
    [{ kind: 'frame-buffer', frames: lot.whole(1, 4) }],
  ];
  const room =
    lot.number(0, 1) < 0.3
      ? { kind: 'flickering-light', illuminanceLux: lot.number(10, 300), mainsHz: 50 }
      : { kind: 'constant-light', illuminanceLux: lot.number(0, 200) };
  const sensor =
    kind === 'tube' && lot.number(0, 1) < 0.5
      ? { kind: 'line-rate' }
      : { kind: 'wide-band', thresholdCdM2: lot.number(2, 25) };
  const aim = { x: 128 + lot.number(-9, 9), y: 112 + lot.number(-9, 9) };
  const atMs = 420 + lot.number(0, 17);
  return prepareTarget({
    constants: {
      ...FIRST_LIGHT,
      SPEED: lot.pick([0, 0, 0, 4]),
      LAMP_X: 120,
      SKY: lot.pick([0x0f, 0x01, 0x11, 0x21]),
      LAMP: lot.pick([0x20, 0x27, 0x16]),
      BOX_FRAMES: lot.whole(1, 4),
      LOOK_FRAMES: lot.whole(1, 14),
      POLL_WAIT: lot.pick([0, 0, 0, 40]),
    },
    document: {
      lightPath: {
        stages: lot.pick(stages),
        panel: panelOf(kind, lot),
        room,
        optics: { kind: 'gaussian-spot', radiusDots: lot.number(2, 8) },
        sensor,
      },
      pulls: lot.number(0, 1) < 0.3 ? [{ aim: { x: 90, y: 60 }, atMs: 200, squeezeMs: 50 }] : [],
      settleMs: 100,
      shots: [{ aim, atMs }],
      hand: { kind: 'swaying-hand', driftDeg: lot.number(0.1, 2), armDeg: lot.number(0, 1) },
      seed: lot.whole(1, 1_000_000),
      deadlineFrames: 12,
    },
  });
}

/** The whole state of the light at a tick of a shot, and what came of the shot. */
interface Ended {
  readonly light: string;
  readonly result: ShotResult;
}

function ended(shot: Shot, tick: number): Ended {
  shot.runUntil(tick);
  return { light: hashOf(shot.save().light), result: shot.finish() };
}

/** Run, stopped at ticks drawn by lot, and sometimes saved and gone on with in a new console. */
function stopped(prepared: PreparedScenario, tick: number, lot: Lot): Ended {
  let shot = new Shot(prepared, 0);
  while (shot.tick < tick) {
    shot.runUntil(Math.min(tick, shot.tick + lot.whole(1, ticksPerFrame(prepared.timing) / 4)));
    const state = shot.save();
    if (lot.number(0, 1) > 0.05) continue;
    shot = new Shot(prepared, 0);
    shot.load(state);
  }
  return ended(shot, tick);
}

/** A tick some lines down a picture that begins after the hand has moved in a vertical blank. */
function tickAfterBlank(prepared: PreparedScenario, lot: Lot): number {
  const shot = new Shot(prepared, 0);
  const frame = ticksPerFrame(prepared.timing);
  const moved = lot.pick(shot.movesOfHand.filter(({ tick }) => tick % frame > BLANK * frame));
  return Math.floor((Math.floor(moved.tick / frame) + 1.1) * frame);
}

/** As a session that has kept a moment would run it again. */
function live(prepared: PreparedScenario): ShotResult {
  const { scenario, timing } = prepared;
  const [plan] = scenario.shots as [(typeof scenario.shots)[0]];
  const tick = msToTicks(timing, plan.atMs);
  const shot = new Shot(prepared, 0);
  shot.runUntil(Math.max(1, tick - leadTicks(prepared) - 2 * ticksPerFrame(timing)));
  const { console, history, light } = shot.save();
  return observeLiveShot({
    prepared,
    lightPath: scenario.lightPath,
    moment: { console, history, light: { ...light, moves: [] } },
    moves: light.moves,
    presses: [],
    pulls: scenario.pulls
      .filter(({ atMs, squeezeMs }) => msToTicks(timing, atMs + squeezeMs) > shot.tick)
      .map(({ aim, atMs, squeezeMs }) => ({ aim, tick: msToTicks(timing, atMs), squeezeMs })),
    shot: { aim: plan.aim, tick, squeezeMs: plan.squeezeMs },
  }).result;
}

describe.each(PANELS)('a moving hand before a %s', (kind) => {
  test('a shot is the same to the tick, whoever asks the light and how often', () => {
    let flips = 0;
    for (let k = 0; k < SHOTS; k++) {
      const lot = new Lot(4711, 100 * PANELS.indexOf(kind) + k);
      const prepared = movingHand(kind, lot);
      const tick = tickAfterBlank(prepared, lot);
      const plain = ended(new Shot(prepared, 0), tick);
      flips += plain.result.flips.length;
      expect([k, ended(new Shot(prepared, 0, { draws: 'aim' }), tick)]).toEqual([k, plain]);
      expect([k, ended(new Shot(prepared, 0, { engine: 'reference' }), tick)]).toEqual([k, plain]);
      expect([k, stopped(prepared, tick, lot)]).toEqual([k, plain]);
      expect([k, observeShot(prepared, 0).result]).toEqual([k, plain.result]);
      expect([k, live(prepared)]).toEqual([k, plain.result]);
    }
    expect(flips).toBeGreaterThan(SHOTS);
  });
});
