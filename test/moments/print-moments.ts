import { readMoment, scenarioFingerprint, writeMoment } from '../../src/shot/moment.ts';
import { type Engine, Shot, type ShotState } from '../../src/shot/shot.ts';
import { Fingerprint } from '../../src/units/hash.ts';
import { hashNoise } from '../../src/units/noise.ts';
import { ticksPerFrame } from '../../src/units/timing.ts';
import { firstLight } from '../first-light.ts';

const PANELS = [{ kind: 'beam-tube' }, { kind: 'lcd' }, { kind: 'lcd', scanMs: 15.5, riseMs: 1, fallMs: 12 }];
const count = Number(process.argv[2]);
const perShot = 50;

/** One hash over everything in a state, in the order in which it stands there. */
function hashOf(data: unknown, into = new Fingerprint()): Fingerprint {
  if (typeof data === 'number') return into.addDouble(data);
  if (data instanceof Float64Array) for (const value of data) into.addDouble(value);
  else if (ArrayBuffer.isView(data)) into.addBytes(data as unknown as ArrayLike<number>);
  else if (typeof data === 'object' && data !== null) {
    for (const [key, value] of Object.entries(data)) hashOf(value, into.addText(key));
  } else into.addText(String(data));
  return into;
}
const bytesOf = (state: ShotState): string => hashOf(state).digest();

let different = 0;
let inFlight = 0;
for (let run = 0; run < count / perShot; run++) {
  const prepared = firstLight({
    timing: ['60hz', '50hz', '50hz-clone'][run % 3]!,
    deadlineFrames: 6,
    shots: [{ aim: { x: 128, y: 112 }, atMs: 90 }],
    lightPath: {
      panel: PANELS[run % PANELS.length]!,
      stages: run % 2 === 0 ? [] : [{ kind: 'pure-delay', delayMs: 25 * hashNoise(9, 1, run) }],
    },
  });
  const scenario = scenarioFingerprint(prepared);
  const end = new Shot(prepared, 0);
  const whole = JSON.stringify(end.finish());
  const first = new Shot(prepared, 0, { engine: run % 4 === 0 ? 'reference' : 'fast' });
  const ticks = Array.from({ length: perShot }, (_, i) =>
    Math.floor(hashNoise(9, 2, run * perShot + i) * first.deadlineTick),
  ).sort((a, b) => a - b);
  for (const [i, tick] of ticks.entries()) {
    first.runUntil(tick);
    if (tick > first.triggerTick) inFlight++;
    const state = first.save();
    const engine: Engine = i % 8 === 0 ? 'reference' : 'fast';
    const second = new Shot(prepared, 0, { engine });
    // Every tenth goes through its file.
    const written = i % 10 === 0 ? readMoment(writeMoment({ scenario, shot: 0, state }), prepared, 0).state : state;
    second.load(written);
    const third = new Shot(prepared, 0);
    third.load(first.save());
    const later = tick + 2 * ticksPerFrame(prepared.timing);
    second.runUntil(later);
    third.runUntil(later);
    if (bytesOf(second.save()) !== bytesOf(third.save())) different++;
    else if (i % 10 === 0 && JSON.stringify(second.finish()) !== whole) different++;
  }
}
console.log(JSON.stringify({ moments: count, different, inFlight }));
