import { readFileSync } from 'node:fs';
import { prepareScenario } from '../../../src/shot/prepared-scenario.ts';
import { checkScenario } from '../../../src/shot/scenario.ts';
import type { Lot } from './lot.ts';
import {
  beside,
  lcd,
  onLamp,
  onShownLamp,
  type Path,
  type Plant,
  pathOf,
  tube,
  withConstants,
  withEntries,
  withPath,
} from './plant.ts';
import { FIRST_LIGHT, type Setting } from './target.ts';

const FRAME_MS = 16.639;
const either = (lot: Lot): Path => (lot.number(0, 1) < 0.5 ? tube(lot) : lcd(lot));
const delayed = (delayMs: number) => [{ kind: 'pure-delay', delayMs }];

/** A late LCD that the program waits for: so many whole frames. */
function lateLcd(lot: Lot, frames: number): Setting {
  const lightPath = { ...lcd(lot), stages: delayed(frames * FRAME_MS + lot.number(0, 2)) };
  const setting = onLamp(lot, lightPath);
  return withConstants(setting, { SKIP_FRAMES: frames, LOOK_FRAMES: 1 });
}

/** A lamp that moves to the right. */
function moving(setting: Setting, lot: Lot, SPEED: number): Setting {
  return withConstants(setting, { SPEED, LAMP_X: 110 - 28 * SPEED + lot.whole(-10, 10) });
}

const JAM: Plant = {
  id: 'jam',
  base: (lot) => onLamp(lot, either(lot)),
  plant: (setting, lot) => withConstants(setting, { JAM_AT: lot.pick([1, 2]) }),
};

const NO_NMI: Plant = {
  id: 'no-nmi',
  base: (lot) => onLamp(lot, either(lot)),
  plant: (setting, lot) => withConstants(setting, { CONTROL: lot.pick([0, 1, 2, 3, 0x40, 0x42]) }),
};

const NMI_LATE: Plant = {
  id: 'nmi-late',
  base: (lot) => onLamp(lot, either(lot)),
  plant: (setting, lot) => withConstants(setting, { NMI_WASTE: lot.whole(33, 120) }),
};

const WRONG_PORT: Plant = {
  id: 'wrong-port',
  base: (lot) => (lot.number(0, 1) < 0.5 ? beside(lot, either(lot)) : onLamp(lot, either(lot))),
  plant: (setting, lot) =>
    lot.number(0, 1) < 0.5
      ? withConstants(setting, { LIGHT_PORT: 0x4016 })
      : withEntries(setting, { ports: ['light sensor', lot.pick(['pad', 'none'])] }),
};

const WRONG_POLARITY: Plant = {
  id: 'wrong-polarity',
  base: (lot) => beside(lot, either(lot)),
  plant: (setting) => withConstants(setting, { LIT: 1 }),
};

const TRIGGER_LATE: Plant = {
  id: 'trigger-late',
  base(lot) {
    const setting = withConstants(moving(onLamp(lot, either(lot)), lot, 2), { REWIND: lot.pick([2, 3]) });
    const [plan] = setting.document['shots'] as readonly object[];
    return onShownLamp(withEntries(setting, { shots: [{ ...plan, squeezeMs: 500 }] }));
  },
  plant: (setting, lot) => withConstants(setting, { DEBOUNCE: lot.whole(8, 16) }),
};

const NINTH_SPRITE: Plant = {
  id: 'ninth-sprite',
  base: (lot) => withConstants(onLamp(lot, either(lot)), { DECOYS: lot.whole(0, 3) }),
  plant: (setting, lot) => withConstants(setting, { DECOYS: lot.whole(7, 15) }),
};

const LIGHT_GONE: Plant = {
  id: 'light-gone',
  base: (lot) => onLamp(lot, either(lot)),
  plant: (setting, lot) => withConstants(setting, { SKIP_FRAMES: lot.whole(1, 4) }),
};

const POLL_GAP: Plant = {
  id: 'poll-gap',
  base(lot) {
    const path = tube(lot);
    return onLamp(lot, { ...path, sensor: { ...path.sensor, thresholdCdM2: lot.number(40, 200) } });
  },
  plant: (setting, lot) => withConstants(setting, { POLL_WAIT: lot.whole(100, 255) }),
};

const OFF_TARGET: Plant = {
  id: 'off-target',
  base(lot) {
    const setting = onLamp(lot, lcd(lot));
    const { panel, sensor } = pathOf(setting);
    const thresholdCdM2 = (panel['whiteCdM2'] as number) * lot.number(0.8, 0.93);
    return withPath(setting, { sensor: { ...sensor, thresholdCdM2 } });
  },
  plant(setting, lot) {
    const { LAMP_X, LAMP_Y } = setting.constants;
    const [plan] = setting.document['shots'] as readonly object[];
    const far = () => lot.pick([-1, 1]) * lot.number(3, 7.9);
    const aim = { x: LAMP_X + 8 + far(), y: LAMP_Y + 8 + far() };
    return withEntries(setting, { shots: [{ ...plan, aim }] });
  },
};

const BOX_ELSEWHERE: Plant = {
  id: 'box-elsewhere',
  base(lot) {
    const frames = lot.whole(0, 5);
    const still = frames === 0 ? onLamp(lot, either(lot)) : lateLcd(lot, frames);
    const setting = moving(still, lot, lot.pick([2, 3]));
    return withConstants(onShownLamp(setting), { REWIND: frames + lot.pick([1, 2]) });
  },
  plant: (setting, lot) =>
    withConstants(setting, { REWIND: lot.number(0, 1) < 0.7 ? 0 : setting.constants.REWIND + lot.whole(6, 12) }),
};

const HAND_MOVED: Plant = {
  id: 'hand-moved',
  base: (lot) => lateLcd(lot, lot.whole(2, 8)),
  plant: (setting, lot) =>
    withEntries(setting, {
      hand: { kind: 'swaying-hand', driftDeg: lot.number(0.5, 2), armDeg: lot.number(0.2, 1) },
      seed: lot.whole(1, 1_000_000),
    }),
};

const STILL_LIT: Plant = {
  id: 'still-lit',
  base(lot) {
    const path = lcd(lot);
    const pwm =
      lot.number(0, 1) < 0.3 ? { pwmHz: lot.number(120, 480), pwmDuty01: 0.5, pwmPhase01: lot.number(0, 1) } : {};
    const panel = { ...path.panel, fallMs: lot.number(20, 90), ...pwm };
    const stages = lot.number(0, 1) < 0.5 ? [] : delayed(lot.number(0, 8));
    const setting = beside(lot, { ...path, panel, stages });
    return withConstants(setting, { SKY: lot.pick([0x20, 0x31, 0x37, 0x38, 0x10]), BLACK_FRAMES: 14 });
  },
  plant: (setting) => withConstants(setting, { BLACK_FRAMES: 1 }),
};

/** Two pulls at one place, close together; the lamp has gone on meanwhile, but its flash is still up on a slow panel. */
const EARLIER_FLASH: Plant = {
  id: 'earlier-flash',
  base(lot) {
    const path = lcd(lot);
    const optics = { ...path.optics, radiusDots: lot.number(3, 5) };
    const sensor = { ...path.sensor, thresholdCdM2: lot.number(6, 16) };
    const setting = onShownLamp(
      withConstants(onLamp(lot, { ...path, optics, sensor }), { SPEED: 4, LAMP_X: lot.whole(5, 30) }),
    );
    const [pull] = setting.document['shots'] as readonly [{ readonly atMs: number }];
    const first = { ...pull, squeezeMs: 60 };
    const second = { ...first, atMs: pull.atMs + lot.number(200, 260) };
    return withEntries(setting, { pulls: [first], shots: [second], settleMs: 100 });
  },
  plant(setting, lot) {
    const { panel } = pathOf(setting);
    return withPath(setting, { panel: { ...panel, fallMs: lot.number(120, 200) } });
  },
};

const ROOM_LIGHT: Plant = {
  id: 'room-light',
  base: (lot) => beside(lot, lcd(lot)),
  plant: (setting, lot) =>
    withPath(setting, {
      room: {
        kind: 'flickering-light',
        illuminanceLux: lot.number(500, 6000),
        diffuseReflectance01: lot.number(0.05, 0.1),
        percentFlicker: lot.number(20, 100),
        mainsHz: lot.pick([50, 60]),
        phase01: lot.number(0, 1),
      },
    }),
};

const TOO_DIM: Plant = {
  id: 'too-dim',
  base: (lot) => onLamp(lot, lcd(lot)),
  plant(setting, lot) {
    const { panel, sensor } = pathOf(setting);
    const thresholdCdM2 = (panel['whiteCdM2'] as number) * lot.number(1.02, 1.8);
    return withPath(setting, { sensor: { ...sensor, thresholdCdM2 } });
  },
};

const TOO_EARLY: Plant = {
  id: 'too-early',
  base: (lot) => onLamp(lot, lcd(lot)),
  plant: (setting, lot) => withPath(setting, { stages: delayed(lot.number(8, 200)) }),
};

/** A program that waits for a late panel, and sees to it that the light does not come before that. */
const PICTURE_EARLY: Plant = {
  id: 'picture-early',
  base(lot) {
    const frames = lot.whole(2, 7);
    const setting = withConstants(lateLcd(lot, frames), { SKIP_DARK: 1, BOX_FRAMES: 2 });
    return withPath(setting, { stages: delayed(frames * FRAME_MS + lot.number(1, 5)) });
  },
  plant(setting, lot) {
    const [stage] = pathOf(setting).stages as readonly { readonly delayMs: number }[];
    const early = lot.number(1.3, 2) * FRAME_MS;
    return stage === undefined ? setting : withPath(setting, { stages: delayed(Math.max(0, stage.delayMs - early)) });
  },
};

const SLOW_PANEL: Plant = {
  id: 'slow-panel',
  base: (lot) => withConstants(onLamp(lot, lcd(lot)), { BOX_FRAMES: 6 }),
  plant(setting, lot) {
    const { panel, sensor } = pathOf(setting);
    const thresholdCdM2 = (panel['whiteCdM2'] as number) * lot.number(0.3, 0.6);
    return withPath(setting, {
      panel: { ...panel, riseMs: lot.number(30, 150) },
      sensor: { ...sensor, thresholdCdM2 },
    });
  },
};

const BLIND_SENSOR: Plant = {
  id: 'blind-sensor',
  base: (lot) => onLamp(lot, lcd(lot)),
  plant: (setting, lot) => withPath(setting, { sensor: { kind: 'line-rate', q: lot.number(3, 8) } }),
};

const CALIBRATED = JSON.parse(readFileSync('homebrew-demo/lamplighter/calibrated-late-lcd.json', 'utf8'));
const FILES = {
  image: new Uint8Array(readFileSync('homebrew-demo/lamplighter/calibrated.bin')),
  labels: readFileSync('homebrew-demo/lamplighter/calibrated.lbl', 'utf8'),
};
const prepareCalibrated = ({ document }: Setting) =>
  prepareScenario(checkScenario({ ...CALIBRATED, ...document }), FILES);
const AIMS = [
  { x: 52, y: 36 },
  { x: 132, y: 120 },
  { x: 212, y: 204 },
];

function calibrated(lot: Lot, lightPath: Path): Setting {
  const at = lot.pick(AIMS);
  const aim = { x: at.x + lot.number(-2, 2), y: at.y + lot.number(-2, 2) };
  return {
    constants: FIRST_LIGHT,
    document: {
      lightPath,
      pulls: [{ aim: { x: 128, y: 120 }, atMs: 1000 + lot.number(0, 17) }],
      shots: [{ aim, atMs: 4400 + lot.number(0, 17) }],
    },
  };
}

const MISCALIBRATED: Plant = {
  id: 'miscalibrated',
  prepare: prepareCalibrated,
  base: (lot) => calibrated(lot, { ...lcd(lot), stages: delayed(lot.number(10, 100)) }),
  plant(setting, lot) {
    const path = pathOf(setting);
    const [{ delayMs }] = path.stages as readonly [{ readonly delayMs: number }];
    const other = delayMs + lot.pick([-1, 1]) * lot.number(20, 90);
    return withEntries(setting, { pullsLightPath: { ...path, stages: delayed(Math.max(0, other)) } });
  },
};

const THRESHOLD_MOVED: Plant = {
  id: 'threshold-moved',
  prepare: prepareCalibrated,
  base(lot) {
    const path = lcd(lot);
    const panel = { ...path.panel, riseMs: lot.number(60, 130), fallMs: lot.number(5, 20) };
    return calibrated(lot, { ...path, panel, stages: delayed(lot.number(10, 80)) });
  },
  plant(setting, lot) {
    const path = pathOf(setting);
    const thresholdCdM2 = (path.panel['whiteCdM2'] as number) * lot.number(0.3, 0.55);
    return withEntries(setting, {
      lightPath: { ...path, sensor: { ...path.sensor, thresholdCdM2 } },
      pullsLightPath: path,
    });
  },
};

/** Every kind of fault, in the order of the causes. */
export const PLANTS: readonly Plant[] = [
  JAM,
  NO_NMI,
  NMI_LATE,
  WRONG_PORT,
  WRONG_POLARITY,
  TRIGGER_LATE,
  NINTH_SPRITE,
  POLL_GAP,
  LIGHT_GONE,
  OFF_TARGET,
  BOX_ELSEWHERE,
  HAND_MOVED,
  THRESHOLD_MOVED,
  MISCALIBRATED,
  STILL_LIT,
  EARLIER_FLASH,
  ROOM_LIGHT,
  TOO_DIM,
  TOO_EARLY,
  PICTURE_EARLY,
  SLOW_PANEL,
  BLIND_SENSOR,
];
