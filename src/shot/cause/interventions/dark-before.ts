import { isLitAt } from '../../light-bit.ts';
import { aimedTarget, flashPicture, frameTicks, ms, picturesSince, spanOf } from '../facts.ts';
import { field, type Intervention } from '../intervention.ts';
import type { Observation } from '../observation.ts';
import type { PictureNote } from '../picture-notes.ts';
import { darkTick } from '../rerun.ts';
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

/** Black pictures that are tried at most, frames. */
const MOST_BLACK = 60;

/** When the light that was seen would go out if every picture from the first black one on were black. */
function darkAt(first: Observation, world: World): number {
  const [lit] = litBefore(first);
  const black = blackPicture(first);
  const from = lit ?? first.result.ticks.trigger;
  const retouch = { ...world.retouch, blackFrom: black?.index ?? 0 };
  const latest = from + MOST_BLACK * frameTicks(first);
  return darkTick(first, { ...world, retouch }, from, latest) ?? latest;
}

/** The glass is given black instead of every picture before the flash. */
export const DARK_BEFORE: Intervention = {
  name: 'dark before',
  title: 'the black pictures last until the glass is dark',
  evidence: (first) =>
    Math.max(...first.pictures.map(({ spotLight }) => spotLight), 0) < DARK ? 0 : litBefore(first).length,
  apply: (world, first) => ({
    ...world,
    retouch: { ...world.retouch, blackUntil: lastBefore(first) },
    isLightNew: true,
  }),
  describe(first, world) {
    const lit = litBefore(first);
    const { trigger } = first.result.ticks;
    const [at] = lit;
    const dark = darkAt(first, world);
    const black = blackPicture(first)?.lineZeroTick ?? trigger;
    const asked = flashPicture(first)?.lineZeroTick ?? black;
    const frames = Math.max(1, Math.ceil((dark - asked) / frameTicks(first)));
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

/** The first dark picture after the trigger. */
function blackPicture(first: Observation): PictureNote | undefined {
  const k = Math.max(0, aimedTarget(first));
  return picturesSince(first).find(({ spotLight, boxLight }) => spotLight < DARK && (boxLight[k] ?? 0) < 0.3);
}
