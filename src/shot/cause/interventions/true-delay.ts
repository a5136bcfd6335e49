import { PIXEL_OUT_DELAY_DOTS } from '../../../references/console-constants.ts';
import { ticksPerLine } from '../../../units/timing.ts';
import { countText } from '../../sentence.ts';
import { boxOf, centreOf } from '../../truth.ts';
import { aimedTarget, flashPicture, latencyOf, ms, spanOf, toMs } from '../facts.ts';
import { type Change, type Finding, field, type Intervention } from '../intervention.ts';
import type { Observation } from '../observation.ts';
import type { Poke } from '../world.ts';

/** From the centre line of the flash's box on the wire to the crossing, ticks; undefined where there was none. */
function trueDelay(first: Observation): number | undefined {
  const { crossing } = first.result.ticks;
  const flash = flashPicture(first);
  const target = flash?.targets[aimedTarget(first)];
  if (crossing === null || flash === undefined || target === undefined) return undefined;
  const { timing, scenario } = first.prepared;
  const line = centreOf(boxOf(target, scenario.targets.marginDots)).y;
  const centreTick = flash.lineZeroTick + line * ticksPerLine(timing) + PIXEL_OUT_DELAY_DOTS * timing.dotDivider;
  // An aim above the centre sees its light before the centre line is there: no program holds less than nothing.
  return Math.max(0, crossing - centreTick);
}

interface Place {
  readonly address: number;
  readonly bytes: number;
  readonly unitTicks: number;
}

/** Where the program keeps its delay; undefined where the scenario does not say. */
function placeOf({ prepared: { scenario, timing, calibrationAddress } }: Observation): Place | undefined {
  const { calibration } = scenario;
  if (calibration === undefined || calibrationAddress === undefined) return undefined;
  return {
    address: calibrationAddress,
    bytes: calibration.bytes,
    unitTicks: calibration.unitCycles * timing.cpuDivider,
  };
}

/** The delay that the program held before the trigger, ticks. */
function heldDelay(first: Observation, { address, bytes, unitTicks }: Place): number {
  const { image } = first.prepared;
  const { ram } = first.moments[first.moments.length - 1]!.state.console;
  let value = 0;
  for (let i = bytes - 1; i >= 0; i--) {
    const byte = address >= 0x8000 ? image.program[(address + i) % image.program.length]! : ram[(address + i) & 0x7ff]!;
    value = value * 256 + byte;
  }
  return value * unitTicks;
}

function pokesFor({ address, bytes, unitTicks }: Place, delayTicks: number): Poke[] {
  let rest = Math.max(0, Math.round(delayTicks / unitTicks));
  return Array.from({ length: bytes }, (_, i) => {
    const value = rest % 256;
    rest = Math.floor(rest / 256);
    return { address: address + i, value };
  });
}

/** By how much the delay held differs from the true one, ticks; where either is not known, from the light calibrated on. */
function error(first: Observation): number {
  const [place, delay] = [placeOf(first), trueDelay(first)];
  if (place !== undefined && delay !== undefined) return Math.abs(delay - heldDelay(first, place));
  if (!differs(first)) return 0;
  const { pullsLightPath, lightPath } = first.prepared.scenario;
  return Math.max(1, Math.abs(latencyOf(first, lightPath.stages) - latencyOf(first, pullsLightPath!.stages)));
}

function differs({ prepared: { scenario } }: Observation): boolean {
  const { pullsLightPath, lightPath } = scenario;
  return pullsLightPath !== undefined && JSON.stringify(pullsLightPath) !== JSON.stringify(lightPath);
}

/**
 * The program holds the delay of the light that the shot is taken on: written into its memory where the scenario says where
 * that is, else by calibrating again, from before the first pull, on the light of the shot.
 */
export const TRUE_DELAY: Intervention = {
  name: 'true delay',
  title: 'the program holds the true delay',
  evidence: error,
  apply(world, first) {
    const [place, delay] = [placeOf(first), trueDelay(first)];
    if (place !== undefined && delay !== undefined && !differs(first))
      return { ...world, pokes: [...world.pokes, ...pokesFor(place, delay)] };
    const { pullsLightPath: _, ...scenario } = world.scenario;
    return { ...world, scenario, startsAtPulls: true };
  },
  describe(first): Finding {
    const [place, delay] = [placeOf(first), trueDelay(first)];
    const fresh: Change = { in: 'scenario', path: 'pullsLightPath' };
    if (place === undefined || delay === undefined) return otherLight(first, fresh);
    const held = heldDelay(first, place);
    const units = Math.round(delay / place.unitTicks);
    return {
      id: 'miscalibrated',
      fields: {
        held: ms(first, held),
        needed: ms(first, delay),
        error: ms(first, held - delay),
        units: field(units, 'units'),
      },
      sentence: `The program takes the light to come ${spanOf(first, held)} after its line left the console; light from this flash came after ${spanOf(first, delay)}: the delay it holds is ${spanOf(first, Math.abs(held - delay))} too ${held > delay ? 'long' : 'short'}.`,
      cure: {
        text: `${differs(first) ? 'Calibrate anew on this light, or set' : 'Set'} the delay to ${countText(units, 'unit')} (${spanOf(first, delay)}).`,
        changes: differs(first)
          ? [fresh]
          : [
              ...(place.address >= 0x8000
                ? pokesFor(place, delay).map((poke): Change => ({ in: 'image', ...poke }))
                : []),
              { in: 'program', constant: 'delay', to: units, unit: 'units' },
            ],
      },
    };
  },
};

function otherLight(first: Observation, change: Change): Finding {
  const { pullsLightPath, lightPath } = first.prepared.scenario;
  const [then, now] = [pullsLightPath, lightPath].map((path) => toMs(first, latencyOf(first, path?.stages ?? []))) as [
    number,
    number,
  ];
  const panels = pullsLightPath === undefined ? '' : ` (${pullsLightPath.panel.kind}, now ${lightPath.panel.kind})`;
  return {
    id: 'miscalibrated',
    fields: { atCalibration: field(then, 'ms'), atShot: field(now, 'ms'), moved: field(now - then, 'ms') },
    sentence: `The program calibrated on a picture that was ${round(then)} ms late${panels}; at the shot the picture was ${round(now)} ms late: ${round(Math.abs(now - then))} ms ${now > then ? 'more' : 'less'}.`,
    cure: { text: 'Calibrate anew on the light that is shot on.', changes: [change] },
  };
}

const round = (value: number): string => value.toFixed(1);
