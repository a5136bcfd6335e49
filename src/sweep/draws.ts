import type { LightPathSettings } from '../light/light-path.ts';
import type { ModelSetting } from '../light/parameters.ts';
import type { PreparedScenario } from '../shot/prepared-scenario.ts';
import type { Aim } from '../shot/truth.ts';
import { hashNoise } from '../units/noise.ts';
import { ticksPerFrame, ticksToMs } from '../units/timing.ts';
import { RANDOM_AXES, type RandomAxis } from './plan-format.ts';

/** One stream of noise a name: what shot number i draws does not depend on the strategy, nor on what else is drawn. */
const STREAMS: Readonly<Record<RandomAxis | 'hand', number>> = {
  triggerPhase: 1,
  backlightPhase: 2,
  lampPhase: 3,
  hand: 4,
};

/** The part of the light path that runs free, its parameter, and whether there is something that could be out of phase. */
const PHASES = {
  backlightPhase: {
    part: 'panel',
    name: 'pwmPhase01',
    runs: ({ pwmHz, pwmDuty01 }: ModelSetting) => Number(pwmHz ?? 0) > 0 && Number(pwmDuty01 ?? 1) < 1,
  },
  lampPhase: {
    part: 'room',
    name: 'phase01',
    runs: ({ percentFlicker }: ModelSetting) => Number(percentFlicker ?? 0) > 0,
  },
} as const;

type Light = Pick<LightPathSettings, 'panel' | 'room'>;

/** Which of these axes a cell has (all are free when the plan names none). */
export function freeAxesOf(light: Light, named: readonly RandomAxis[] = RANDOM_AXES): RandomAxis[] {
  return RANDOM_AXES.filter((axis) => {
    if (!named.includes(axis)) return false;
    return axis === 'triggerPhase' || PHASES[axis].runs(light[PHASES[axis].part]);
  });
}

/** Whether all shots of a cell are one run up to the trigger: nothing that runs free from power-on differs between them. */
export const sharesStart = (free: readonly RandomAxis[]): boolean => free.every((axis) => axis === 'triggerPhase');

export const draw = (seed: number, axis: RandomAxis | 'hand', shot: number): number =>
  hashNoise(seed, STREAMS[axis], shot);

/** The scenario of shot number `shot`: one shot at `aim`, everything that is free drawn by lot. It can be run on its own. */
export function drawnShot(
  prepared: PreparedScenario,
  aim: Aim,
  free: readonly RandomAxis[],
  seed: number,
  shot: number,
): PreparedScenario {
  const { scenario, timing } = prepared;
  const plan = scenario.shots[0]!;
  const frameMs = ticksToMs(timing, ticksPerFrame(timing));
  const phase = free.includes('triggerPhase') ? draw(seed, 'triggerPhase', shot) : 0;
  const lightPath = { ...scenario.lightPath };
  for (const axis of ['backlightPhase', 'lampPhase'] as const) {
    const { part, name } = PHASES[axis];
    if (free.includes(axis)) lightPath[part] = { ...lightPath[part], [name]: draw(seed, axis, shot) };
  }
  return {
    ...prepared,
    scenario: {
      ...scenario,
      lightPath,
      seed: Math.floor(draw(seed, 'hand', shot) * 0x1_0000_0000),
      shots: [{ ...plan, aim, atMs: plan.atMs + phase * frameMs }],
    },
  };
}
