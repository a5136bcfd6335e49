import { isLitAt } from '../../light-bit.ts';
import { aimedTarget, flashPicture, frameTicks, ms, picturesSince, spanOf, toMs } from '../facts.ts';
import { type Finding, field, type Intervention } from '../intervention.ts';
import type { Observation } from '../observation.ts';
import type { PictureNote } from '../picture-notes.ts';
import { darkTick, firstWorld } from '../rerun.ts';
import type { World } from '../world.ts';

/** Light of white = 1; a spot is dark below it. Assumed: half of the darkest colours. */
const DARK = 0.01;

/** The last picture whose light is none of the flash: that before the flash, or the last of the scene before a dark one. */
function lastBefore(first: Observation): number {
  const flash = flashPicture(first);
  if (flash !== undefined && first.result.truth.kind === 'target') return flash.index - 1;
  const since = picturesSince(first);
  const dark = since.find(({ spotLight }, i) => spotLight < DARK && since[i + 1] !== undefined);
  return (dark ?? since[since.length - 1])?.index ?? -1;
}

/** Reads that saw light before light of the flash had come. */
function litBefore(first: Observation): number[] {
  const { reads, flips, ticks } = first.result;
  const from =
    first.result.truth.kind === 'target' ? (ticks.crossing ?? Number.POSITIVE_INFINITY) : Number.POSITIVE_INFINITY;
  return reads.filter((tick) => tick < from && isLitAt(flips, tick));
}

/**
 * When the light came that the program read although the spot was dark in every picture since the trigger: a flash of an
 * earlier shot was still up. Undefined where it is not so: a lamp's light is never lit for a whole picture before the trigger.
 */
function earlierLight(first: Observation): number | undefined {
  const { flips, ticks } = first.result;
  const [lit] = litBefore(first);
  if (lit === undefined || first.pictures.some(({ spotLight }) => spotLight >= DARK)) return undefined;
  const on = flips.filter((tick, i) => i % 2 === 0 && tick <= lit).pop();
  return on !== undefined && on <= ticks.trigger - frameTicks(first) ? on : undefined;
}

/** Black pictures that are tried at most, frames. */
const MOST_BLACK = 60;

/**
 * When the light that was seen would go out if every picture from the first black one on were black, or where none is from
 * the first one since the trigger; undefined if that many black pictures do not make it dark.
 */
function darkAt(first: Observation, world: World): number | undefined {
  const [lit] = litBefore(first);
  const black = blackPicture(first) ?? picturesSince(first)[0];
  const from = lit ?? first.result.ticks.trigger;
  const retouch = { ...world.retouch, blackFrom: black?.index ?? world.retouch.blackFrom };
  return darkTick(first, { ...world, retouch }, from, from + MOST_BLACK * frameTicks(first));
}

/** Those of first runs are asked for twice. */
const darkMade = new WeakMap<Observation, number | undefined>();

function darkAtFirst(first: Observation): number | undefined {
  if (!darkMade.has(first)) darkMade.set(first, darkAt(first, firstWorld(first)));
  return darkMade.get(first);
}

/** In the world that is described; one with another fault put right may keep its light up for longer than any black is tried. */
const darkIn = (first: Observation, world: World): number => darkAt(first, world) ?? darkAtFirst(first)!;

/** The glass is given black instead of every picture before the flash. */
export const DARK_BEFORE: Intervention = {
  name: 'dark before',
  title: 'the black pictures last until the glass is dark',
  evidence: (first) =>
    first.pictures.some(({ spotLight }) => spotLight >= DARK) || earlierLight(first) !== undefined
      ? litBefore(first).length
      : 0,
  apply(world, first) {
    // Light that black pictures do not put out is none of a picture's.
    if (darkAtFirst(first) === undefined) return world;
    return { ...world, retouch: { ...world.retouch, blackUntil: lastBefore(first) }, isLightNew: true };
  },
  describe(first, world) {
    const earlier = earlierLight(first);
    if (earlier !== undefined) return earlierFlash(first, world, earlier);
    const lit = litBefore(first);
    const { trigger } = first.result.ticks;
    const [at] = lit;
    const black = blackPicture(first)?.lineZeroTick ?? trigger;
    // What is told is of this shot; how many pictures it takes, of the one with another fault put right.
    const dark = darkAtFirst(first) ?? darkIn(first, world);
    const asked = flashPicture(first)?.lineZeroTick ?? black;
    const frames = Math.max(1, Math.ceil((darkIn(first, world) - Math.max(asked, at!)) / frameTicks(first)));
    return {
      id: 'still-lit',
      fields: {
        litRead: ms(first, at! - trigger),
        dark: ms(first, dark - trigger),
        blackBegan: ms(first, black - trigger),
        frames: field(frames, 'frames'),
      },
      sentence: `The program read light ${spanOf(first, at! - trigger)} after the trigger that was still up from the picture before its flash: the picture went black after ${spanOf(first, black - trigger)}, the light bit after ${spanOf(first, dark - trigger)}.`,
      cure: {
        text: `Show at least ${frames} black picture${frames === 1 ? '' : 's'} more before the first box, or go on until a read is dark.`,
        changes: [{ in: 'program', constant: 'black pictures', by: frames, unit: 'frames' }],
      },
    };
  },
};

/** More black pictures would not help: they put off the earlier flash as well. */
function earlierFlash(first: Observation, world: World, on: number): Finding {
  const { trigger } = first.result.ticks;
  const [lit] = litBefore(first) as [number];
  const dark = darkIn(first, world);
  const frames = Math.max(1, Math.ceil((dark - lit) / frameTicks(first)) + 1);
  const later = Math.round(toMs(first, frames * frameTicks(first)) * 1000) / 1000;
  const { atMs } = first.prepared.scenario.shots[first.shot]!;
  return {
    id: 'earlier-flash',
    fields: {
      litRead: ms(first, lit - trigger),
      litFor: ms(first, trigger - on),
      dark: ms(first, dark - trigger),
      frames: field(frames, 'frames'),
    },
    sentence: `The program read light ${spanOf(first, lit - trigger)} after the trigger that was still up from a flash before this shot: the light bit had been lit for ${spanOf(first, trigger - on)} when the trigger was pulled, and would have been dark ${spanOf(first, dark - trigger)} after it.`,
    cure: {
      text: `Begin no shot before a read is dark: this one ${frames} frame${frames === 1 ? '' : 's'} later.`,
      changes: [
        { in: 'scenario', path: `shots.${first.shot}.atMs`, value: atMs + later },
        { in: 'program', constant: 'pause between shots', by: frames, unit: 'frames' },
      ],
    },
  };
}

/** The first dark picture after the trigger. */
function blackPicture(first: Observation): PictureNote | undefined {
  const k = Math.max(0, aimedTarget(first));
  return picturesSince(first).find(({ spotLight, boxLight }) => spotLight < DARK && (boxLight[k] ?? 0) < 0.3);
}
