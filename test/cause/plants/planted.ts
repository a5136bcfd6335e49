import { LatelightError } from '../../../src/errors/latelight-error.ts';
import { isRightJudgement } from '../../../src/shot/judgement.ts';
import type { PreparedScenario } from '../../../src/shot/prepared-scenario.ts';
import { Shot } from '../../../src/shot/shot.ts';
import type { Truth } from '../../../src/shot/truth.ts';
import { Lot } from './lot.ts';
import { type Plant, prepareOf } from './plant.ts';
import { prepareTarget, type Setting } from './target.ts';

/** A fault that alone turns a right shot wrong. */
export interface Planted {
  readonly plant: Plant;
  readonly base: Setting;
  readonly setting: Setting;
  readonly prepared: PreparedScenario;
}

export interface Verdict {
  readonly is: 'right' | 'wrong' | 'other';
  /** What the aim was on; undefined after a jam or a refusal. */
  readonly truth?: Truth['kind'];
}

/** An edge, a refusal or a jam before the trigger is neither right nor wrong. */
export function verdictOf(prepared: PreparedScenario): Verdict {
  let shot: Shot | undefined;
  try {
    shot = new Shot(prepared, 0);
    const { judgement, truth } = shot.finish();
    if (judgement === 'edge') return { is: 'other' };
    const isRight = isRightJudgement(judgement);
    return { is: isRight ? 'right' : 'wrong', truth: truth.kind };
  } catch (error) {
    if (!(error instanceof LatelightError) || error.code === 'INTERNAL') throw error;
    return { is: error.code === 'PROGRAM_JAMMED' && shot?.truth !== undefined ? 'wrong' : 'other' };
  }
}

/** The plants alone, or together, turn a right shot at the same thing wrong. */
function isEffective(base: PreparedScenario, prepared: PreparedScenario): boolean {
  const after = verdictOf(prepared);
  if (after.is !== 'wrong') return false;
  const before = verdictOf(base);
  return before.is === 'right' && (after.truth ?? before.truth) === before.truth;
}

/** Effective plants of a kind, one after the other; the seed of each is its number among those drawn. */
export function* planted(plant: Plant, seed: number): Generator<Planted, void> {
  for (let draw = 0; draw < MOST_DRAWS; draw++) {
    const lot = new Lot(seed, draw);
    const base = plant.base(lot);
    const setting = plant.plant(base, lot);
    const prepare = prepareOf(plant);
    const prepared = prepare(setting);
    if (isEffective(prepare(base), prepared)) yield { plant, base, setting, prepared };
  }
}

const MOST_DRAWS = 20_000;

/** Two faults of different kinds in one shot. */
export interface PlantedPair {
  readonly plants: readonly [Plant, Plant];
  readonly setting: Setting;
  readonly prepared: PreparedScenario;
}

/** Two plants may not fit each other, such as the response of an LCD and a tube. */
function preparedIfValid(setting: Setting): PreparedScenario | undefined {
  try {
    return prepareTarget(setting);
  } catch (error) {
    if (error instanceof LatelightError && error.code === 'SCENARIO_INVALID') return undefined;
    throw error;
  }
}

/** Effective double faults of the target program, of kinds drawn by lot. */
export function* plantedPairs(plants: readonly Plant[], seed: number): Generator<PlantedPair, void> {
  const ofTarget = plants.filter(({ prepare }) => prepare === undefined);
  for (let draw = 0; draw < MOST_DRAWS; draw++) {
    const lot = new Lot(seed, draw);
    const [a, b] = [lot.pick(ofTarget), lot.pick(ofTarget)];
    if (a === b) continue;
    const base = a.base(lot);
    const setting = b.plant(a.plant(base, lot), lot);
    const prepared = preparedIfValid(setting);
    if (prepared !== undefined && isEffective(prepareTarget(base), prepared))
      yield { plants: [a, b], setting, prepared };
  }
}
