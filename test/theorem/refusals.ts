import { hashNoise } from '../../src/units/noise.ts';
import { type TimingId, ticksToMs } from '../../src/units/timing.ts';
import { Lamplighter, type LamplighterSetup } from '../lamplighter.ts';
import { type TheoremPath, TUBE } from './light-paths.ts';
import { type Aim, builtFiles, frameMs, MARK, prepareStreet } from './practice-street.ts';

const OFF_THE_SCREEN: Aim = { x: -200, y: 120 };
export const ALL_TIMINGS: readonly TimingId[] = ['60hz', '50hz', '50hz-clone'];

/** What a calibration came to, and what the name table says of it. */
export interface Outcome {
  readonly code: number;
  readonly delayUnits: number;
  readonly text: readonly string[];
}

/** Power on with Select held, pull, and wait for the result. */
function calibrate(setup: LamplighterSetup, pullMs: number): Outcome {
  const machine = new Lamplighter({ strategy: 'calibrated', aim: MARK, ...setup });
  machine.hold('Select');
  machine.runMs(400);
  machine.hold();
  machine.runMs(pullMs - 400);
  machine.pull();
  machine.runUntil(() => machine.byte('calibration') >= 2, 400);
  machine.runFrames(10);
  const text = machine.text().filter((row) => row !== '');
  return { code: machine.byte('calibration'), delayUnits: machine.word('delayUnits'), text };
}

/** The same on a light path. */
export function calibrateOn(path: TheoremPath, delayMs: number, timing: TimingId, aim = MARK, phaseMs = 0): Outcome {
  const files = builtFiles('calibrated');
  const { lightPath } = prepareStreet({ files, path, delayMs, timing, shots: [{ aim, atMs: 0 }] }).scenario;
  return calibrate({ path: lightPath, timing, aim }, 700 + delayMs + phaseMs);
}

const lcd = (more: Readonly<Record<string, number>>): TheoremPath => ({
  name: 'LCD',
  panel: { kind: 'lcd', ...more },
  isBuffered: false,
});
/** A lamp on the mains as bright as a lit screen; 100 % flicker. */
const lamp = (mainsHz: number, illuminanceLux: number, phase01 = 0) => ({
  kind: 'flickering-light',
  illuminanceLux,
  diffuseReflectance01: 0.1,
  percentFlicker: 100,
  mainsHz,
  phase01,
});

/** One light path for each reason to refuse: the number that `calibration` keeps, and words that the screen must show. */
export const REFUSALS: readonly {
  readonly code: number;
  readonly says: string;
  readonly path: TheoremPath;
  readonly delayMs?: number;
  readonly aim?: Aim;
}[] = [
  { code: 0x81, says: 'OTHER LIGHT THAN THE SCREEN', path: { ...lcd({}), room: lamp(50, 3000) } },
  { code: 0x82, says: 'PULSE OF WRONG LENGTH', path: lcd({ fallMs: 180 }) },
  { code: 0x83, says: 'DELAY NOT CONSTANT', path: lcd({ pwmHz: 52, pwmDuty01: 0.6, pwmPhase01: 0 }) },
  { code: 0x84, says: "LIGHT THAT IS NOT THE SCREEN'S", path: lcd({ pwmHz: 55, pwmDuty01: 0.6, pwmPhase01: 0.5 }) },
  { code: 0x85, says: 'DELAY TOO LONG FOR THE RING', path: lcd({}), delayMs: 800 },
  { code: 0x86, says: 'NO LIGHT FROM THE SCREEN', path: TUBE, aim: OFF_THE_SCREEN },
];

/** Calibrations under a lamp: how often each `calibration` came out, and the delays found. */
export interface LampTrial {
  readonly timing: TimingId;
  readonly mainsHz: number;
  readonly codes: Record<string, number>;
  readonly delayUnits: readonly number[];
}

/** Light of a lamp alone, from a tenth of what the sensor sees to twenty times as much: 25 cd/m2 of swing are 393 lx. */
const LAMP_LUX = [39, 370, 390, 393, 396, 420, 800, 8000];

/** The wand points beside the screen: all light is the lamp's. */
export function lampAlone(timing: TimingId, mainsHz: number, phases: number): LampTrial {
  return tryLamps(timing, mainsHz, phases, OFF_THE_SCREEN);
}

/** The wand points at the screen, 50 ms late: right, or refused. */
export function lampAndScreen(timing: TimingId, mainsHz: number, phases: number): LampTrial {
  return tryLamps(timing, mainsHz, phases, MARK);
}

function tryLamps(timing: TimingId, mainsHz: number, phases: number, aim: Aim): LampTrial {
  const codes: Record<string, number> = {};
  const delayUnits: number[] = [];
  for (const [i, lux] of LAMP_LUX.entries()) {
    for (let phase = 0; phase < phases; phase++) {
      const lot = hashNoise(77, 1, 100 * i + phase);
      const path = { ...lcd({}), room: lamp(mainsHz, lux, lot) };
      const outcome = calibrateOn(path, 50, timing, aim, 20 * hashNoise(77, 2, 100 * i + phase));
      codes[outcome.code] = (codes[outcome.code] ?? 0) + 1;
      if (outcome.code === 2) delayUnits.push(outcome.delayUnits);
    }
  }
  return { timing, mainsHz, codes, delayUnits };
}

/** A lamp that is switched on when the wand has seen its darkness, and off again, and stays so or comes back 41 frames later. */
export function lampSwitchedOn(timing: TimingId, mainsHz: number, trials: number): LampTrial {
  const codes: Record<string, number> = {};
  for (let trial = 0; trial < trials; trial++) {
    const lot = (stream: number): number => hashNoise(78, stream, trial);
    const outcome = calibrate(
      {
        timing,
        light: (tick, machine) => {
          const atMs = ticksToMs(machine.timing, tick);
          const ms = atMs - (780 + 60 * lot(1));
          const repeat = (timing === '60hz' ? 41 : 34) * frameMs(timing);
          const within = ms < 0 ? -1 : ms % repeat;
          const isOn = within >= 0 && within < 30 + 60 * lot(2);
          const turns = (atMs / 1000) * 2 * mainsHz + lot(3);
          return isOn && turns - Math.floor(turns) < 0.1 + 0.8 * lot(4);
        },
      },
      700,
    );
    codes[outcome.code] = (codes[outcome.code] ?? 0) + 1;
  }
  return { timing, mainsHz, codes, delayUnits: [] };
}
