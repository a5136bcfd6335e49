import calibratedLcd from '../../../homebrew-demo/lamplighter/calibrated-late-lcd.json';
import lateLcd from '../../../homebrew-demo/lamplighter/late-lcd.json';
import tube from '../../../homebrew-demo/lamplighter/tube.json';
import { readLightPathSettings } from '../../shot/light-path-settings.ts';
import { spanText } from '../../shot/sentence.ts';
import type { PlayOutcome } from '../../workers/play.api.ts';
import type { BenchState } from './bench-state.ts';

/** One shot of the first minute, and what it is to show. */
export interface FirstMinuteStep {
  readonly title: string;
  readonly button: string;
  readonly state: BenchState;
  readonly expected: 'hit' | 'miss';
  /** What an expected verdict means. `light`: how long after its line on the wire the flash crossed the threshold. */
  readonly meaning: (light: string) => string;
}

/** Said before the first shot. */
export const INTRODUCTION: readonly string[] = [
  'A light-gun game finds your aim by light: it lights a box at each target and looks whether the wand sees one.',
  'A picture tube answers at once; a flat screen shows every picture later, when the game has already looked.',
  'Three shots at one lamp show both, and what helps; nothing flashes, you read what the light did.',
];

/** Said after the last. */
export const CLOSING =
  'That was the first minute. Change a station of the light’s way and shoot again, or read the caution and play.';

interface DemoScenario {
  readonly image: string;
  readonly lightPath: unknown;
  readonly shots: readonly { readonly aim: BenchState['aim'] }[];
}

/** The bench as a scenario of the demo has it, at its first aim; `played` says which program it is shot with. */
const stateOf = ({ lightPath, shots }: DemoScenario, played: DemoScenario): BenchState => ({
  strategy: played.image.replace(/\.bin$/, ''),
  lightPath: readLightPathSettings(lightPath, []),
  aim: shots[0]!.aim,
});

const LATE = `LCD, ${lateLcd.lightPath.stages[0]!.delayMs} ms late`;

/** From one step to the next a single thing changes: first the screen, then the program. */
export const FIRST_MINUTE: readonly FirstMinuteStep[] = [
  {
    title: 'picture tube',
    button: 'Take the first shot: on a picture tube',
    state: stateOf(tube, lateLcd),
    expected: 'hit',
    meaning: (light) => `The tube lit up ${light} after its line had left the console, and the game was looking.`,
  },
  {
    title: LATE,
    button: `Take the second shot: on an ${LATE}`,
    state: stateOf(lateLcd, lateLcd),
    expected: 'miss',
    meaning: (light) =>
      `Same game, same aim. The light came ${light} after its line had left the console; by then the game was no ` +
      'longer asking for this lamp.',
  },
  {
    title: `${LATE}, calibrated`,
    button: 'Take the third shot: calibrate first',
    state: stateOf(calibratedLcd, calibratedLcd),
    expected: 'hit',
    meaning: (light) =>
      `The LCD of the second shot: the light came ${light} after its line had left the console. This game had measured the screen ` +
      'before, by one pull at a mark, and knew when to look.',
  },
];

/** What a step has shown: as expected with what it means, else plainly that it was not. */
export function seenText({ expected, meaning }: FirstMinuteStep, { judgement, lanes, marks }: PlayOutcome): string {
  const at = (name: string): number | undefined => marks.find((mark) => mark.name === name)?.ms;
  const [flash, crossing] = [at('flashOnWire'), at('crossing')];
  const flashEnd = lanes?.pictures.find(({ isFlash }) => isFlash)?.toMs;
  if (judgement !== expected || flash === undefined || crossing === undefined || flashEnd === undefined)
    return `This was to be a ${expected}, and it came out otherwise: what happened stands below.`;
  if (expected === 'miss' && crossing < flashEnd)
    return 'A miss, but not of a light that came late: what happened stands below.';
  return meaning(spanText(crossing - flash));
}
