import type { Picture } from '../../picture/picture.ts';
import { PIXEL_OUT_DELAY_DOTS } from '../../references/console-constants.ts';
import { PICTURE_HEIGHT, type Timing, ticksPerLine } from '../../units/timing.ts';
import type { Presentation } from './signal-stage.ts';

/** A picture as it leaves the console's plug: dot x of row y at `tTop + y * ticks per line + x * ticks per dot`. */
export function sourcePresentation(picture: Picture, timing: Timing): Presentation {
  return {
    index: picture.index,
    content: { kind: 'picture', picture: picture.index },
    tTop: picture.lineZeroTick + PIXEL_OUT_DELAY_DOTS * timing.dotDivider,
    tPerRow: ticksPerLine(timing),
    yFirst: 0,
    yLast: PICTURE_HEIGHT - 1,
    isStored: false,
  };
}
