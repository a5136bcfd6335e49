import { changedImage, changedScenario } from '../../../src/shot/cause/apply-cure.ts';
import type { CauseId, Change, Finding } from '../../../src/shot/cause/intervention.ts';
import type { PreparedScenario } from '../../../src/shot/prepared-scenario.ts';
import { Shot } from '../../../src/shot/shot.ts';
import type { Lot } from './lot.ts';
import { type ConstantName, type Constants, FIRST_LIGHT, prepareTarget, type Setting } from './target.ts';

/** One kind of fault: a setting that is right, and what makes it wrong. */
export interface Plant {
  readonly id: CauseId;
  base(lot: Lot): Setting;
  plant(setting: Setting, lot: Lot): Setting;
  /** Another program than target.s. */
  readonly prepare?: (setting: Setting) => PreparedScenario;
}

export const prepareOf = (plant: Plant): ((setting: Setting) => PreparedScenario) => plant.prepare ?? prepareTarget;

export const withConstants = (setting: Setting, changes: Partial<Constants>): Setting => ({
  ...setting,
  constants: { ...setting.constants, ...changes },
});

export const withEntries = (setting: Setting, changes: Readonly<Record<string, unknown>>): Setting => ({
  ...setting,
  document: { ...setting.document, ...changes },
});

export interface Path {
  readonly stages: readonly unknown[];
  readonly panel: Readonly<Record<string, unknown>>;
  readonly room: Readonly<Record<string, unknown>>;
  readonly optics: Readonly<Record<string, unknown>>;
  readonly sensor: Readonly<Record<string, unknown>>;
}

export const pathOf = ({ document }: Setting): Path => document['lightPath'] as Path;

export const withPath = (setting: Setting, changes: Partial<Path>): Setting =>
  withEntries(setting, { lightPath: { ...pathOf(setting), ...changes } });

export const tube = (lot: Lot): Path => ({
  stages: [],
  panel: { kind: 'beam-tube', whiteCdM2: lot.number(80, 150) },
  room: { kind: 'constant-light', illuminanceLux: lot.number(0, 100) },
  optics: { kind: 'gaussian-spot', radiusDots: lot.number(4, 6.5) },
  sensor: { kind: 'wide-band', thresholdCdM2: lot.number(15, 35) },
});

export const lcd = (lot: Lot): Path => ({
  ...tube(lot),
  panel: {
    kind: 'lcd',
    riseMs: lot.number(1, 5),
    fallMs: lot.number(1, 5),
    whiteCdM2: lot.number(200, 450),
  },
});

/** Target program, wand within a few dots of the lamp's centre, no fault. */
export function onLamp(lot: Lot, lightPath: Path): Setting {
  const [LAMP_X, LAMP_Y] = [lot.whole(40, 190), lot.whole(60, 130)];
  const aim = { x: LAMP_X + 8 + lot.number(-2, 2), y: LAMP_Y + 8 + lot.number(-2, 2) };
  return {
    constants: { ...FIRST_LIGHT, LAMP_X, LAMP_Y },
    document: { lightPath, shots: [{ aim, atMs: 500 + lot.number(0, 17) }] },
  };
}

/** The wand points at nothing. */
export function beside(lot: Lot, lightPath: Path): Setting {
  const setting = onLamp(lot, lightPath);
  const { LAMP_X, LAMP_Y } = setting.constants;
  const aim = {
    x: LAMP_X > 120 ? lot.number(20, LAMP_X - 40) : lot.number(LAMP_X + 56, 236),
    y: LAMP_Y > 95 ? lot.number(20, LAMP_Y - 10) : lot.number(LAMP_Y + 30, 180),
  };
  return withEntries(setting, { shots: [{ aim, atMs: 500 + lot.number(0, 17) }] });
}

/** The wand points where the glass shows the lamp when the trigger is pulled. */
export function onShownLamp(setting: Setting, prepare = prepareTarget): Setting {
  const prepared = prepare(setting);
  const shot = new Shot(prepared, 0, {});
  shot.runUntil(shot.triggerTick);
  const [target] = shot.shownTargets;
  const [plan] = setting.document['shots'] as readonly { readonly atMs: number }[];
  const aim = { x: target!.x + 8, y: target!.y + 8 };
  return withEntries(setting, { shots: [{ ...plan, aim }] });
}

/** How the constants of target.s follow from a cure that names a constant of the program. */
const CONSTANT_OF: Readonly<Record<string, (change: ProgramChange, now: Constants) => [ConstantName, number]>> = {
  PPUCTRL: ({ to }) => ['CONTROL', to!],
  handler: ({ by }, { NMI_WASTE }) => ['NMI_WASTE', Math.max(0, NMI_WASTE - Math.ceil(-by! / 46))],
  'light level of bit 3': ({ to }) => ['LIT', to!],
  debounce: ({ by, to }, { DEBOUNCE }) => ['DEBOUNCE', to ?? Math.max(0, DEBOUNCE + by!)],
  'sprites on a scanline': ({ by }, { DECOYS }) => ['DECOYS', Math.max(0, DECOYS + by!)],
  'poll period': ({ to }) => ['POLL_WAIT', Math.max(0, Math.floor(to! / (46 / 1.7898)) - 1)],
  'frames before the look': ({ by }, { SKIP_FRAMES }) => ['SKIP_FRAMES', Math.max(0, SKIP_FRAMES + by!)],
  rewind: ({ by }, { REWIND }) => ['REWIND', REWIND + by!],
  'black pictures': ({ by }, { BLACK_FRAMES }) => ['BLACK_FRAMES', BLACK_FRAMES + by!],
  'frames of the look': ({ by }, { LOOK_FRAMES }) => ['LOOK_FRAMES', LOOK_FRAMES + by!],
};

type ProgramChange = Extract<Change, { in: 'program' }>;

/** The scenario with a cure: its changes of the scenario or of the image, or, without any, those of the program. */
export function cured(plant: Plant, setting: Setting, { cure }: Pick<Finding, 'cure'>): PreparedScenario {
  const inPlace = cure.changes.filter(({ in: place }) => place !== 'program');
  const prepare = prepareOf(plant);
  if (inPlace.length > 0) {
    const prepared = prepare(setting);
    const scenario = changedScenario(prepared.scenario, inPlace);
    return { ...prepared, scenario, image: changedImage(prepared.image, inPlace) };
  }
  return prepare(curedProgram(setting, cure.changes));
}

/** The program with the constants that the changes name. */
export function curedProgram(setting: Setting, changes: readonly Change[]): Setting {
  return changes.reduce((now, change) => {
    const rule = change.in === 'program' ? CONSTANT_OF[change.constant] : undefined;
    if (rule === undefined) return now;
    const [name, value] = rule(change as ProgramChange, now.constants);
    return withConstants(now, { [name]: value });
  }, setting);
}
