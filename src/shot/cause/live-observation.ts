import { LatelightError } from '../../errors/latelight-error.ts';
import type { AimMove, LightPathSettings } from '../../light/light-path.ts';
import type { PictureHistoryState } from '../../picture/picture.ts';
import { ticksToMs } from '../../units/timing.ts';
import type { PreparedScenario } from '../prepared-scenario.ts';
import type { Scenario } from '../scenario.ts';
import { capacityFor } from '../shot.ts';
import type { Aim } from '../truth.ts';
import { leadTicks, type Observation, type ObservationStart, observeShotFrom } from './observation.ts';
import { atOnce, type Stepwise } from './stepwise.ts';

/** Buttons held on a pad in [fromTick, toTick). */
export interface LivePress {
  readonly port: 1 | 2;
  readonly button: Scenario['pads'][number]['button'];
  readonly fromTick: number;
  readonly toTick: number;
}

/** A pull of the trigger: its contact is closed in [tick, tick + squeeze). */
export interface LivePull {
  readonly aim: Aim;
  readonly tick: number;
  readonly squeezeMs: number;
}

/** A shot that somebody has made in a console that has been running for some time; plain data but for `prepared`. */
export interface LiveShot {
  /** The scenario that the console plays; its light path is not looked at. */
  readonly prepared: PreparedScenario;
  /** The way of the light at the shot. It must not have changed since the moment. */
  readonly lightPath: LightPathSettings;
  /** Console, pictures and light as they were at one instant before the trigger, `leadTicks` before it or more. */
  readonly moment: ObservationStart;
  /** Where the wand has gone since the moment, up to the end of the shot, by ascending tick. */
  readonly moves: readonly AimMove[];
  /** Buttons held at the moment and since, up to the end of the shot. */
  readonly presses: readonly LivePress[];
  /** Pulls before the shot whose contact was closed at the moment or later. */
  readonly pulls: readonly LivePull[];
  readonly shot: LivePull;
}

/**
 * Run a live shot again from a moment before it, and keep what its causes may be found in: `explain` takes the result.
 * Costs what the frames from the moment to the end of the shot cost. Errors: as `runShot`; STATE_FIELD if the moment does not
 * fit; PARAM_RANGE if it lies too late.
 */
export function observeLiveShot(live: LiveShot): Observation {
  return atOnce(observeLiveShotStepwise(live));
}

/** The same, a frame at a time. */
export function* observeLiveShotStepwise(live: LiveShot): Stepwise<Observation> {
  const { moment, moves } = live;
  const prepared = { ...live.prepared, scenario: scenarioOf(live) };
  const capacity = capacityFor(prepared);
  checkLead(live, prepared);
  return yield* observeShotFrom(prepared, 0, {
    console: moment.console,
    history: latestOf(moment.history, capacity),
    light: { ...moment.light, moves: [...moment.light.moves, ...moves] },
  });
}

/** So long before a shot through this light path the moment must lie that `observeLiveShot` begins at. Ticks. */
export const liveLeadTicks = (prepared: PreparedScenario, lightPath: LightPathSettings): number =>
  leadTicks({ ...prepared, scenario: { ...prepared.scenario, lightPath } });

/**
 * One shot with the inputs since the moment. A pull at power-on stands for whatever was before: the light path of a scenario
 * with pulls keeps as many pictures as one that moves needs.
 */
function scenarioOf({ prepared, lightPath, presses, pulls, shot }: LiveShot): Scenario {
  const { timing } = prepared;
  const { hand: _, pullsLightPath: __, ...scenario } = prepared.scenario;
  const planOf = ({ aim, tick, squeezeMs }: LivePull) => ({ aim, atMs: ticksToMs(timing, tick), squeezeMs });
  return {
    ...scenario,
    lightPath,
    pads: presses.map(({ port, button, fromTick, toTick }) => ({
      port,
      button,
      fromMs: ticksToMs(timing, fromTick),
      toMs: ticksToMs(timing, toTick),
    })),
    pulls: [{ aim: shot.aim, atMs: 0, squeezeMs: 1 }, ...pulls.map(planOf)],
    // Where an intervention moves the aim it does so from the moment on.
    settleMs: ticksToMs(timing, shot.tick),
    shots: [planOf(shot)],
  };
}

function checkLead({ moment, shot }: LiveShot, prepared: PreparedScenario): void {
  const latest = shot.tick - leadTicks(prepared);
  if (moment.light.askedTick <= latest || latest <= 0) return;
  throw new LatelightError('PARAM_RANGE', {
    name: 'tick of the moment',
    found: moment.light.askedTick,
    allowed: `${latest} or earlier`,
  });
}

/** As many pictures as a shorter history keeps. */
function latestOf({ newest, pictures }: PictureHistoryState, capacity: number): PictureHistoryState {
  return { newest, pictures: pictures.slice(-Math.min(capacity, newest + 1)) };
}
