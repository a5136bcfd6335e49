import { LatelightError } from '../errors/latelight-error.ts';
import { displayBytes } from '../references/palette.ts';
import { FLASH_PROFILES } from '../safety/flash-profile.ts';
import { notJudgedLines, playedLine } from '../safety/flash-text.ts';
import { checkFlashes } from '../shot/flash-check.ts';
import { prepareScenario } from '../shot/prepared-scenario.ts';
import { checkScenario, parseScenario } from '../shot/scenario.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../units/timing.ts';
import type { FlashCheckRequest, FlashCheckService, FlashPicture, FlashStream } from './flash-check.api.ts';
import { streamData } from './flash-check.stream.ts';
import type { Refusal } from './refusal.ts';

const AFTER_LAST_SHOT_S = 2;

/** Holds programs against published limits in the thread that it is made in. Refusals come back as data. */
export function createFlashCheckService(): FlashCheckService {
  return {
    check: (request) => {
      try {
        return checkOf(request);
      } catch (error) {
        if (error instanceof LatelightError) return { refused: error.message, hint: error.hint } satisfies Refusal;
        throw error;
      }
    },
  };
}

/** Errors: SCENARIO_NOT_JSON, SCENARIO_INVALID, PARAM_RANGE, and those of running the program. */
function checkOf({ image, labels, scenario, lightPath, seconds, scale, profiles }: FlashCheckRequest): FlashStream {
  const { ...document } = parseScenario(scenario) as Record<string, unknown>;
  const checked = checkScenario(lightPath === undefined ? document : { ...document, lightPath });
  const prepared = prepareScenario(checked, { image, labels });
  const lastMs = Math.max(...checked.shots.map(({ atMs }) => atMs));
  const watchedS = seconds ?? lastMs / 1000 + AFTER_LAST_SHOT_S;
  const size = { scale, pixelAspect: 1 };
  const found = checkFlashes(prepared, {
    profiles: FLASH_PROFILES.filter(({ id }) => profiles.includes(id)),
    size,
    seconds: watchedS,
  });
  const { played } = found;
  const colours = displayBytes(prepared.timing.swapsRedGreenEmphasis);
  return streamData({
    ...found,
    size,
    first: [playedLine(played), ...notJudgedLines(played)],
    stream: 'The game',
    watched: `${watchedS.toFixed(1)} s from power-on, shown at ${scale} CSS pixels a line, dots square`,
    unit: 'dots',
    shown: (codes) => rgbaOf(codes, colours),
  });
}

function rgbaOf(codes: Uint16Array, colours: Uint8Array): Omit<FlashPicture, 'timeS'> {
  const rgba = new Uint8ClampedArray(codes.length * 4).fill(255);
  for (let at = 0; at < codes.length; at++) rgba.set(colours.subarray(codes[at]! * 3, codes[at]! * 3 + 3), at * 4);
  return { width: PICTURE_WIDTH, height: PICTURE_HEIGHT, rgba };
}
