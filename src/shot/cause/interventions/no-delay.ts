import type { ModelSetting } from '../../../light/parameters.ts';
import { PICTURE_HEIGHT, ticksPerLine, ticksToMs } from '../../../units/timing.ts';
import { isLitAt } from '../../light-bit.ts';
import { frameTicks, latencyOf, ms, round, spanOf, toMs } from '../facts.ts';
import { type Change, field, type Intervention, type IsRight } from '../intervention.ts';
import type { Observation } from '../observation.ts';
import type { World } from '../world.ts';

const delayTicks = (first: Observation): number => latencyOf(first, first.prepared.scenario.lightPath.stages);

/** The world with these stages in the place of its own. */
export function withStages(world: World, stages: readonly ModelSetting[]): World {
  const { lightPath } = world.scenario;
  const panel = { ...lightPath.panel, ...scanFor(world, stages) };
  return { ...world, scenario: { ...world.scenario, lightPath: { ...lightPath, stages, panel } }, isLightNew: true };
}

/** Only a panel behind a frame buffer is faster than the wire: without one it is given the wire's pace. Empty where it has that. */
function scanFor({ scenario, timing }: World, stages: readonly ModelSetting[]): { readonly scanMs?: number } {
  const scanMs = Number(scenario.lightPath.panel['scanMs']);
  const wireMs = Math.ceil(ticksToMs(timing, PICTURE_HEIGHT * ticksPerLine(timing)) * 100) / 100;
  const isFast = scenario.lightPath.panel.kind === 'lcd' && scanMs < wireMs;
  return isFast && stages.every(({ kind }) => kind !== 'frame-buffer') ? { scanMs: wireMs } : {};
}

/** How much longer the light took than the program looked, ticks; 0 where it is not known. */
function tooEarly({ result: { ticks } }: Observation): number {
  const { crossing, lastRead } = ticks;
  return crossing === null || lastRead === null ? 0 : Math.max(0, crossing - lastRead);
}

/** The program answered because it had read light, whatever light: it did not stop because its time was over. */
function hasStoppedAtLight({ result: { reads, flips, said } }: Observation): boolean {
  if (said.kind === 'target') return true;
  const last = reads[reads.length - 1];
  return said.kind === 'none' && last !== undefined && isLitAt(flips, last);
}

/** Reads may lie so far apart that the last one just misses the light, ms. Our choice. */
const SPARE_MS = 0.5;
/** A delay of the scenario is at most so long, ms. */
const LONGEST_MS = 500;

/** Stages that are as late as this, in pure delays; with a frame buffer the picture stays whole frames late. */
export const pureDelays = (delayMs: number): readonly ModelSetting[] =>
  delayMs <= 0
    ? []
    : Array.from({ length: Math.ceil(delayMs / LONGEST_MS) }, (_, i) => ({
        kind: 'pure-delay',
        delayMs: Math.min(LONGEST_MS, delayMs - i * LONGEST_MS),
      }));

/** Shares of the delay that are tried where the reads do not say how much less it must be. Our choice. */
const SHARES = [0.8, 0.6, 0.4, 0.2, 0.1, 0.05, 0.02];

/** How often the way between two of them is halved. Our choice. */
const HALVES = 4;

/** The longest delay found with which the shot is right, ms; 0 = none. */
function allowedMs(first: Observation, world: World, isRight: IsRight): number {
  const delay = toMs(first, delayTicks(first));
  const early = toMs(first, tooEarly(first));
  const tried = [...(early > 0 ? [delay - early - SPARE_MS] : []), ...SHARES.map((share) => share * delay)];
  const said = tried.map(asSaid).filter((value) => value > 0);
  const isRightAt = (value: number): boolean => isRight(withStages(world, pureDelays(value)));
  const at = said.findIndex(isRightAt);
  let right = said[at] ?? 0;
  let wrong = at === 0 ? delay : (said[at < 0 ? said.length - 1 : at - 1] ?? delay);
  // The reads told the first of them; between the shares the longest is looked for.
  if (at === 0 && early > 0) return right;
  for (let half = 0; half < HALVES; half++) {
    const middle = asSaid((right + wrong) / 2);
    if (middle <= right) break;
    if (isRightAt(middle)) right = middle;
    else wrong = middle;
  }
  return right;
}

/** Cut to the decimals that a sentence gives, so that what is said is what was tried. */
const asSaid = (value: number): number => {
  const parts = value < 10 ? 100 : 10;
  return Math.floor(value * parts) / parts;
};

/** The same of a change that must not be less. */
const asSaidAtLeast = (value: number): number => {
  const parts = value < 10 ? 100 : 10;
  return Math.ceil(value * parts - 1e-9) / parts;
};

/** Shares of a delay that is right, at which it is looked whether all shorter ones are. Our choice. */
const SHORTER = [0.85, 0.7, 0.55, 0.4, 0.25, 0.1];

const isRightBelow = (allowed: number, world: World, isRight: IsRight): boolean =>
  SHORTER.every((share) => isRight(withStages(world, pureDelays(Number((share * allowed).toFixed(3))))));

/** The program looked when the light came, but took it for that of another picture, or for none. */
function lateText(first: Observation): string {
  const { crossing, flashOnWire } = first.result.ticks;
  const delay = delayTicks(first);
  if (crossing === null || flashOnWire === null)
    return `The picture comes ${spanOf(first, delay)} late; without that the shot is right.`;
  return `Light from this flash crossed the threshold ${spanOf(first, crossing - flashOnWire)} after its line left the console, ${spanOf(first, delay)} of that because the picture is late: the program looked, but no longer for this flash.`;
}

/** What else belongs to these stages. */
export const scanChanges = (world: World, stages: readonly ModelSetting[]): Change[] =>
  Object.values(scanFor(world, stages)).map((value) => ({ in: 'scenario', path: 'lightPath.panel.scanMs', value }));

/** Nothing lies between the console's plug and the panel. */
export const NO_DELAY: Intervention = {
  name: 'no delay',
  title: 'the picture comes without a delay',
  evidence: delayTicks,
  apply: (world) => withStages(world, []),
  describe(first, world, isRight) {
    const [delay, early] = [delayTicks(first), tooEarly(first)];
    const { crossing, flashOnWire, lastRead } = first.result.ticks;
    const allowed = allowedMs(first, world, isRight);
    const less = asSaidAtLeast(toMs(first, delay) - allowed);
    const orLess = allowed > 0 && isRightBelow(allowed, world, isRight) ? ' or less' : '';
    const frames = Math.max(1, Math.ceil(early / frameTicks(first)));
    const isLooking = early > 0 && !hasStoppedAtLight(first);
    const isEarly = early > 0 && crossing !== null && flashOnWire !== null && lastRead !== null;
    return {
      id: 'too-early',
      fields: {
        ...(isEarly ? {} : { delay: ms(first, delay) }),
        ...(early > 0 ? { early: ms(first, early) } : {}),
        ...(isLooking ? { frames: field(frames, 'frames') } : {}),
        less: field(less, 'ms'),
        ...(allowed > 0 ? { allowed: field(allowed, 'ms') } : {}),
        ...(crossing !== null && flashOnWire !== null ? { arrival: ms(first, crossing - flashOnWire) } : {}),
        ...(isEarly ? { lastRead: ms(first, lastRead - flashOnWire) } : {}),
      },
      sentence: isEarly
        ? `Light from this flash crossed the threshold ${spanOf(first, crossing - flashOnWire)} after its line left the console; the program's last read was ${spanOf(first, Math.abs(lastRead - flashOnWire))} ${lastRead < flashOnWire ? 'before it left' : 'after'}: ${spanOf(first, early)} too early${isLooking ? '' : ', because it had read other light'}.`
        : lateText(first),
      cure: {
        text: `${isLooking ? `Look at least ${spanOf(first, early)} longer (${frames} frame${frames === 1 ? '' : 's'}), or choose` : 'Choose'} a picture mode that is ${round(less)} ms less late: ${allowed > 0 ? `${round(allowed)} ms${orLess}` : 'no delay'}, for this aim.`,
        changes: [
          { in: 'scenario', path: 'lightPath.stages', value: pureDelays(allowed) },
          ...scanChanges(world, pureDelays(allowed)),
          ...(isLooking
            ? [{ in: 'program' as const, constant: 'frames of the look', by: frames, unit: 'frames' }]
            : []),
        ],
      },
    };
  },
};
