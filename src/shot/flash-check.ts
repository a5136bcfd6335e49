import { FlashAnalyser, type FlashVerdict, type ShownSize } from '../safety/flash-analyser.ts';
import type { FlashProfile } from '../safety/flash-profile.ts';
import { PictureCells } from '../safety/picture-cells.ts';
import { msToTicks, ticksPerFrame, ticksToSeconds } from '../units/timing.ts';
import { buttonsAt } from './inputs.ts';
import { LiveSession } from './live-session.ts';
import type { PreparedScenario } from './shot.ts';

export interface FlashCheckOptions {
  readonly profiles: readonly FlashProfile[];
  readonly size: ShownSize;
  /** How long the program is watched after power-on, s. */
  readonly seconds: number;
}

const CELL_DOTS = 8;

/**
 * Hold what the program shows on its own raster against published limits, while the scenario's pads, pulls and shots are
 * played in one go; of shots at one time, which are alternatives, the first. Verdicts in the order of the profiles. Errors: PROGRAM_JAMMED, PARAM_RANGE.
 */
export function checkFlashes(prepared: PreparedScenario, options: FlashCheckOptions): FlashVerdict[] {
  const { scenario, timing } = prepared;
  const pulls = [...scenario.pulls, ...scenario.shots]
    .sort((a, b) => a.atMs - b.atMs)
    .filter(({ atMs }, i, all) => atMs !== all[i - 1]?.atMs);
  const session = new LiveSession(prepared, pulls[0]!.aim);
  const cells = new PictureCells(CELL_DOTS, timing.swapsRedGreenEmphasis);
  const analysers = options.profiles.map(
    (profile) => new FlashAnalyser({ profile, size: options.size, cellDots: CELL_DOTS }),
  );
  const frames = Math.ceil(options.seconds / ticksToSeconds(timing, ticksPerFrame(timing)));
  let pulled = 0;
  let seen = -1;
  for (let frame = 0; frame < frames; frame++) {
    for (const port of [1, 2] as const) session.holdButtons(port, buttonsAt(scenario.pads, port, session.tick, timing));
    const next = pulls[pulled];
    if (next !== undefined && session.tick >= msToTicks(timing, next.atMs)) {
      session.moveAim(next.aim);
      session.pullTrigger();
      pulled++;
    }
    session.runFrame();
    for (const picture of session.sentAfter(seen)) {
      seen = picture.index;
      const light = cells.meansOf(picture.codes);
      for (const analyser of analysers) analyser.push(light, ticksToSeconds(timing, picture.lineZeroTick));
    }
  }
  return analysers.map((analyser) => analyser.verdict());
}
