import { countText } from '../../sentence.ts';
import { picturesSince } from '../facts.ts';
import { field, type Intervention } from '../intervention.ts';
import type { Observation } from '../observation.ts';
import type { PictureNote } from '../picture-notes.ts';

const ROOM = 8;

const losing = (first: Observation): PictureNote[] =>
  picturesSince(first).filter(({ dropped }) => dropped.missing.length > 0);

/** The glass is given the dots of sprites for which a scanline had no room. */
export const ALL_SPRITES: Intervention = {
  name: 'all sprites',
  title: 'no sprite is dropped',
  evidence: (first) => losing(first).reduce((sum, { dropped }) => sum + dropped.missing.length, 0),
  apply(world, first) {
    const missing = Object.fromEntries(losing(first).map(({ index, dropped }) => [index, dropped.missing]));
    return { ...world, retouch: { ...world.retouch, missing }, isLightNew: true };
  },
  describe(first) {
    const most = losing(first).reduce((largest, { dropped }) => Math.max(largest, dropped.mostOnALine), 0);
    const dots = losing(first).reduce((largest, { dropped }) => Math.max(largest, dropped.missing.length), 0);
    return {
      id: 'ninth-sprite',
      fields: {
        spritesOnALine: field(most, 'sprites'),
        shown: field(ROOM, 'sprites'),
        missingDots: field(dots, 'dots'),
      },
      sentence: `A scanline of the flash has ${most} sprites and shows ${ROOM}: ${countText(dots, 'dot')} ${dots === 1 ? 'was' : 'were'} missing from the picture near the aim.`,
      cure: {
        text: `Put ${countText(most - ROOM, 'sprite')} fewer on these scanlines while a box is shown.`,
        changes: [{ in: 'program', constant: 'sprites on a scanline', by: ROOM - most, unit: 'sprites' }],
      },
    };
  },
};
