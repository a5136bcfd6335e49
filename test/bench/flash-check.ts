import { openScenario } from '../../src/cli/files.ts';
import { FLASH_PROFILES } from '../../src/safety/flash-profile.ts';
import { PictureFlashes } from '../../src/shot/flash-check.ts';
import { LiveSession } from '../../src/shot/live-session.ts';
import { ticksToSeconds } from '../../src/units/timing.ts';
import { type Figure, median } from './figure.ts';

const FRAMES = 240;
const RUNS = 7;
/** Runs until the code is compiled: about half a minute of pictures. */
const WARM_UP_RUNS = 12;

interface Shown {
  readonly codes: Uint16Array;
  readonly timeS: number;
}

/** Simulated time per processor time of the flash check, once it is compiled, of pictures that are there: Lamplighter with a shot every second. */
export function flashCheckRealtime(): Figure {
  const pictures = lamplighter();
  const seconds = pictures[pictures.length - 1]!.timeS - pictures[0]!.timeS;
  const ratios = Array.from({ length: WARM_UP_RUNS + RUNS }, () => seconds / secondsFor(pictures)).slice(WARM_UP_RUNS);
  return { name: 'flash_check_realtime', value: median(ratios), unit: 'x', bound: 'min', goal: 50 };
}

function secondsFor(pictures: readonly Shown[]): number {
  const profile = FLASH_PROFILES.find(({ id }) => id === 'wcag-a')!;
  const start = process.cpuUsage();
  const flashes = new PictureFlashes({ profiles: [profile], size: { scale: 3, pixelAspect: 1 } }, false);
  for (const { codes, timeS } of pictures) flashes.push(codes, timeS);
  const { user, system } = process.cpuUsage(start);
  return (user + system) / 1e6;
}

function lamplighter(): Shown[] {
  const prepared = openScenario('homebrew-demo/lamplighter/tube.json');
  const session = new LiveSession(prepared, { x: 52, y: 36 });
  const pictures: Shown[] = [];
  let seen = -1;
  for (let frame = 0; frame < FRAMES; frame++) {
    session.holdButtons(1, frame < 24 ? 4 : 0);
    if (frame > 60 && frame % 60 === 0) session.pullTrigger();
    session.runFrame();
    for (const picture of session.sentAfter(seen)) {
      seen = picture.index;
      pictures.push({ codes: picture.codes.slice(), timeS: ticksToSeconds(session.timing, picture.lineZeroTick) });
    }
  }
  return pictures;
}
