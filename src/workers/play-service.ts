import { LatelightError } from '../errors/latelight-error.ts';
import type { Picture } from '../picture/picture.ts';
import { instantsOf } from '../shot/instants.ts';
import { isRightJudgement } from '../shot/judgement.ts';
import { LiveSession, type PullOutcome } from '../shot/live-session.ts';
import { checkScenario, type Scenario } from '../shot/scenario.ts';
import { sentenceOf, verdictText } from '../shot/sentence.ts';
import { prepareScenario, type ShotResult } from '../shot/shot.ts';
import { type Timing, ticksPerFrame, ticksToMs } from '../units/timing.ts';
import { PictureDrawing } from './picture-drawing.ts';
import type {
  DrawnPicture,
  LightChoice,
  PlayFrame,
  PlayInput,
  PlayOutcome,
  PlayRequest,
  PlayService,
  PlayStart,
  Rendering,
  ShotMark,
} from './play.api.ts';
import type { Refusal } from './refusal.ts';

/** A session that somebody plays on the page. Refusals come back as data. */
export class LivePlay implements PlayService {
  #session: LiveSession | undefined;
  /** The document of the scenario, for the parts of the light path that the page does not choose. */
  #document: Record<string, unknown> = {};
  #sent: PictureDrawing | undefined;
  #shown: PictureDrawing | undefined;
  /** Index of the latest picture looked at for boxes. */
  #seen = -1;

  start({ image, labels, scenario, lightPath, aim }: PlayRequest): PlayStart | Refusal {
    return orRefusal(() => {
      const document = JSON.parse(scenario);
      const checked = scenarioWith(document, lightPath);
      const session = new LiveSession(prepareScenario(checked, { image, labels }), aim);
      this.#document = document;
      this.#session = session;
      const marginDots = checked.targets.marginDots;
      this.#sent = new PictureDrawing(session.timing, marginDots);
      this.#shown = new PictureDrawing(session.timing, marginDots);
      this.#seen = -1;
      return this.#started(session);
    });
  }

  changeLightPath(choice: LightChoice): PlayStart | Refusal {
    return orRefusal(() => {
      this.#running().changeLightPath(scenarioWith(this.#document, choice).lightPath);
      return this.#started(this.#running());
    });
  }

  advance({ aim, pulls, buttons, frames, rendering, timeMs }: PlayInput): PlayFrame | Refusal {
    return orRefusal(() => {
      const session = this.#running();
      const outcomes: PullOutcome[] = [];
      session.holdButtons(1, buttons);
      session.moveAim(aim);
      if (pulls) session.pullTrigger();
      for (let frame = 0; frame < frames; frame++) outcomes.push(...session.runFrame());
      for (const picture of session.sentAfter(this.#seen)) {
        this.#seen = picture.index;
        this.#sent!.look(picture, timeMs);
      }
      return {
        shown: drawn(this.#shown!, session.shownPicture, rendering, timeMs),
        sent: drawn(this.#sent!, session.sentPicture, rendering, timeMs),
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
}

const drawn = (
  drawing: PictureDrawing,
  picture: Picture | undefined,
  rendering: Rendering,
  timeMs: number,
): DrawnPicture | null => (picture === undefined ? null : drawing.draw(picture, rendering, timeMs));

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

function outcomeText(outcome: PullOutcome, timing: Timing): PlayOutcome {
  if (outcome.kind === 'not judged') {
    const { message, hint } = outcome.error;
    return { judgement: 'not judged', isRight: false, text: `${message}. ${hint}`, lanes: null, marks: [] };
  }
  const { judgement } = outcome.result;
  return {
    judgement,
    isRight: isRightJudgement(judgement),
    text: `${capital(verdictText(outcome.result, timing))}. ${sentenceOf(outcome.result, timing)}`,
    lanes: outcome.lanes,
    marks: marksOf(outcome.result, timing),
  };
}

const capital = (text: string): string => text[0]!.toUpperCase() + text.slice(1);

const marksOf = (result: ShotResult, timing: Timing): ShotMark[] => [
  { name: 'trigger', title: 'trigger', ms: 0 },
  ...instantsOf(result, timing).flatMap(({ name, title, ms }) => (ms === null ? [] : [{ name, title, ms }])),
];

function orRefusal<Answer>(answer: () => Answer): Answer | Refusal {
  try {
    return answer();
  } catch (error) {
    if (error instanceof LatelightError) return { refused: error.message, hint: error.hint };
    throw error;
  }
}
