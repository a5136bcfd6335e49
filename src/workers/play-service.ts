import { LatelightError } from '../errors/latelight-error.ts';
import type { Picture } from '../picture/picture.ts';
import { displayBytes } from '../references/palette.ts';
import { LiveSession, type PullOutcome } from '../shot/live-session.ts';
import { checkScenario, type Scenario } from '../shot/scenario.ts';
import { sentenceOf } from '../shot/sentence.ts';
import { prepareScenario, type ShotTicks } from '../shot/shot.ts';
import { type Timing, ticksPerFrame, ticksToMs } from '../units/timing.ts';
import type {
  LightChoice,
  PlayFrame,
  PlayInput,
  PlayOutcome,
  PlayRequest,
  PlayService,
  PlayStart,
  ShotMark,
} from './play.api.ts';
import type { Refusal } from './refusal.ts';

/** A session that somebody plays on the page. Refusals come back as data. */
export class LivePlay implements PlayService {
  #session: LiveSession | undefined;
  /** The document of the scenario, for the parts of the light path that the page does not choose. */
  #document: Record<string, unknown> = {};
  #colours = new Uint32Array(0);

  start({ image, labels, scenario, lightPath, aim }: PlayRequest): PlayStart | Refusal {
    return orRefusal(() => {
      const document = JSON.parse(scenario);
      const checked = scenarioWith(document, lightPath);
      const session = new LiveSession(prepareScenario(checked, { image, labels }), aim);
      this.#document = document;
      this.#session = session;
      this.#colours = packedColours(session.timing);
      return this.#started(session);
    });
  }

  changeLightPath(choice: LightChoice): PlayStart | Refusal {
    return orRefusal(() => {
      this.#running().changeLightPath(scenarioWith(this.#document, choice).lightPath);
      return this.#started(this.#running());
    });
  }

  advance({ aim, pulls, buttons, frames }: PlayInput): PlayFrame | Refusal {
    return orRefusal(() => {
      const session = this.#running();
      const outcomes: PullOutcome[] = [];
      session.holdButtons(1, buttons);
      session.moveAim(aim);
      if (pulls) session.pullTrigger();
      for (let frame = 0; frame < frames; frame++) outcomes.push(...session.runFrame());
      const shown = session.shownPicture;
      return {
        picture: shown === undefined ? null : this.#paint(shown),
        outcomes: outcomes.map((outcome) => outcomeText(outcome, session.timing)),
      };
    });
  }

  #running(): LiveSession {
    if (this.#session === undefined) throw new LatelightError('INTERNAL', { what: 'play was not started' });
    return this.#session;
  }

  #started({ timing, spotRadiusDots }: LiveSession): PlayStart {
    return { framesPerSecond: 1000 / ticksToMs(timing, ticksPerFrame(timing)), spotRadiusDots };
  }

  #paint({ codes }: Picture): Uint8ClampedArray<ArrayBuffer> {
    const dots = new Uint32Array(codes.length);
    for (let at = 0; at < codes.length; at++) dots[at] = this.#colours[codes[at]!]!;
    return new Uint8ClampedArray(dots.buffer);
  }
}

/** The scenario with the light path that the page chose. Error: SCENARIO_INVALID. */
function scenarioWith(document: Record<string, unknown>, { panel, sensor, delayMs }: LightChoice): Scenario {
  const lightPath = {
    ...(document['lightPath'] as object),
    stages: delayMs === 0 ? [] : [{ kind: 'pure-delay', delayMs }],
    panel: { kind: panel },
    sensor: { kind: sensor },
  };
  return checkScenario({ ...document, lightPath });
}

/** Bytes R, G, B, 255 of every code in one word, in the order in which this machine keeps them. */
function packedColours({ swapsRedGreenEmphasis }: Timing): Uint32Array<ArrayBuffer> {
  const rgb = displayBytes(swapsRedGreenEmphasis);
  const bytes = new Uint8Array((rgb.length / 3) * 4);
  for (let code = 0; code * 3 < rgb.length; code++) {
    bytes.set(rgb.subarray(code * 3, code * 3 + 3), code * 4);
    bytes[code * 4 + 3] = 255;
  }
  return new Uint32Array(bytes.buffer);
}

function outcomeText(outcome: PullOutcome, timing: Timing): PlayOutcome {
  if (outcome.kind === 'not judged') {
    const { message, hint } = outcome.error;
    return { judgement: 'not judged', isRight: false, text: `${message}. ${hint}`, lanes: null, marks: [] };
  }
  const { judgement } = outcome.result;
  return {
    judgement,
    isRight: judgement === 'hit' || judgement === 'rightly none',
    text: sentenceOf(outcome.result, timing),
    lanes: outcome.lanes,
    marks: marksOf(outcome.result.ticks, timing),
  };
}

const INSTANTS = [
  ['trigger', 'trigger'],
  ['flashOnWire', 'flash leaves the console'],
  ['lightAtSpot', 'light at the spot'],
  ['crossing', 'threshold crossed'],
  ['firstLitRead', 'first read of light'],
  ['lastRead', 'last read before it decided'],
  ['decision', 'decision'],
] as const;

const marksOf = (ticks: ShotTicks, timing: Timing): ShotMark[] =>
  INSTANTS.flatMap(([name, title]) => {
    const tick = ticks[name];
    return tick === null ? [] : [{ name, title, ms: ticksToMs(timing, tick - ticks.trigger) }];
  });

function orRefusal<Answer>(answer: () => Answer): Answer | Refusal {
  try {
    return answer();
  } catch (error) {
    if (error instanceof LatelightError) return { refused: error.message, hint: error.hint };
    throw error;
  }
}
