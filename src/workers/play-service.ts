import { LatelightError } from '../errors/latelight-error.ts';
import type { Picture } from '../picture/picture.ts';
import type { Symbols } from '../program/labels.ts';
import { parseSymbols } from '../program/symbol-file.ts';
import { codeName } from '../shot/code-names.ts';
import { instantsOf } from '../shot/instants.ts';
import { isRightJudgement } from '../shot/judgement.ts';
import { LiveSession, type PullOutcome } from '../shot/live-session.ts';
import { type PreparedScenario, prepareScenario } from '../shot/prepared-scenario.ts';
import { firstLiveMs, rehearse } from '../shot/rehearsal.ts';
import { checkScenario, parseScenario, type Scenario } from '../shot/scenario.ts';
import { capital, notesOf, sentenceOf, verdictText } from '../shot/sentence.ts';
import type { ShotResult } from '../shot/shot.ts';
import type { ShotReplay } from '../shot/shot-replay.ts';
import { type Timing, ticksPerFrame, ticksToMs } from '../units/timing.ts';
import { betweenMessages } from './between-messages.ts';
import { calibrationText } from './calibration-text.ts';
import { drawingPair } from './picture-drawing.ts';
import type {
  DrawnPicture,
  LanesDetail,
  LightPathSettings,
  PicturesOnScreen,
  PlayFrame,
  PlayInput,
  PlayOutcome,
  PlayRequest,
  PlayService,
  PlayStart,
  RehearsedShot,
  ShotMark,
  StillFrame,
  WhyWrong,
} from './play.api.ts';
import type { Refusal } from './refusal.ts';
import { ReplayShelf } from './replay-shelf.ts';
import { type Inquiry, whyLive, whyRehearsed } from './why-wrong.ts';

/** A session that somebody plays on the page. Refusals come back as data. */
export class LivePlay implements PlayService {
  #session: LiveSession | undefined;
  /** The document of the scenario, for the parts of the light path that the page does not choose. */
  #document: Record<string, unknown> = {};
  /** Of the pictures of what the console sends and of what the glass shows. */
  #drawings: ReturnType<typeof drawingPair> | undefined;
  /** Index of the latest picture looked at for boxes. */
  #seen = -1;
  readonly #shelf = new ReplayShelf();
  /** Number of the latest shot, if it was judged. */
  #latest: number | null = null;
  /** Names of the program that is played. */
  #symbols: Symbols = new Map();
  /** Begins to ask why the latest shot was wrong; undefined before the first. */
  #inquire: (() => Inquiry) | undefined;

  start({ image, labels, scenario, lightPath, aim }: PlayRequest): PlayStart | Refusal {
    return orRefusal(() => {
      const document = documentOf(scenario);
      const checked = scenarioWith(document, lightPath);
      const session = new LiveSession(prepareScenario(checked, { image, labels }), aim);
      this.#document = document;
      this.#session = session;
      this.#latest = null;
      this.#inquire = undefined;
      this.#symbols = symbolsOf(checked, labels);
      this.#drawFor(session.timing, checked);
      this.#seen = -1;
      return this.#started(session);
    });
  }

  changeLightPath(lightPath: LightPathSettings): PlayStart | Refusal {
    return orRefusal(() => {
      this.#running().changeLightPath(scenarioWith(this.#document, lightPath).lightPath);
      return this.#started(this.#running());
    });
  }

  advance({ aim, pulls, buttons, frames, rendering, onScreen, timeMs }: PlayInput): PlayFrame | Refusal {
    return orRefusal(() => {
      const session = this.#running();
      const outcomes: PlayOutcome[] = [];
      session.holdButtons(1, buttons);
      session.moveAim(aim);
      if (pulls) session.pullTrigger();
      for (let frame = 0; frame < frames; frame++) outcomes.push(...this.#runFrame(session));
      for (const picture of session.sentAfter(this.#seen)) {
        this.#seen = picture.index;
        this.#drawings!.sent.look(picture, timeMs);
      }
      const drawn = (name: keyof PicturesOnScreen, picture: Picture | undefined): DrawnPicture | null =>
        picture === undefined ? null : this.#drawings![name].draw(picture, rendering, timeMs, onScreen[name]);
      return { shown: drawn('shown', session.shownPicture), sent: drawn('sent', session.sentPicture), outcomes };
    });
  }

  /** What became of pulls in a frame, in words. */
  #runFrame(session: LiveSession): PlayOutcome[] {
    const pulls = session.runFrame().map((outcome) => {
      this.#inquire = () => whyLive(outcome);
      return this.#outcome(outcome, session.timing);
    });
    const { calibration } = session;
    if (calibration === undefined) return pulls;
    this.#latest = null;
    this.#inquire = undefined;
    return [
      ...pulls,
      {
        judgement: calibration.kind,
        isRight: calibration.kind === 'calibrated',
        text: calibrationText(calibration, this.#symbols, (address) => session.peek(address)),
        ...UNSEEN,
      },
    ];
  }

  firstLive(request: PlayRequest): { readonly atMs: number } | Refusal {
    return orRefusal(() => ({ atMs: firstLiveMs(preparedOf(request)) }));
  }

  rehearse(request: PlayRequest): RehearsedShot | Refusal {
    return orRefusal(() => {
      const prepared = preparedOf(request);
      const { outcome, played, session } = rehearse(prepared, request.aim);
      this.#inquire = () => whyRehearsed(outcome, played);
      this.#symbols = symbolsOf(prepared.scenario, request.labels);
      this.#drawFor(session.timing, prepared.scenario);
      return { outcome: this.#outcome(outcome, session.timing), spotRadiusDots: session.spotRadiusDots };
    });
  }

  detail(fromMs: number, toMs: number, columns: number, replay?: number): LanesDetail | Refusal {
    return orRefusal(() => this.#judged(replay).detail(fromMs, toMs, columns));
  }

  keep(replay: number | null): void {
    this.#shelf.keep(replay);
  }

  still(ms: number, timeMs: number): StillFrame | Refusal {
    return orRefusal(() => {
      const { sent, shown, frame, scanline, dot } = this.#judged().still(ms);
      const drawnSent = this.#drawings!.sent.hold(sent, timeMs);
      const drawnShown = this.#drawings!.shown.hold(shown, timeMs);
      const isHeldBack = drawnSent.dots === null || drawnShown.dots === null;
      return { sent: drawnSent, shown: drawnShown, frame, scanline, dot, isHeldBack };
    });
  }

  async explain(): Promise<WhyWrong | null | Refusal> {
    const inquire = this.#inquire;
    if (inquire === undefined) return null;
    try {
      return await betweenMessages(inquire(), () => this.#inquire === inquire);
    } catch (error) {
      return refusalOf(error);
    }
  }

  /** Pictures of another program are drawn where those before were: the page's limit on flashes goes on. */
  #drawFor(timing: Timing, { targets }: Scenario): void {
    this.#drawings ??= drawingPair(timing);
    for (const drawing of Object.values(this.#drawings)) drawing.begin(timing, targets.marginDots);
  }

  /** Errors: NO_SHOT, SHOT_NOT_KEPT. */
  #judged(number: number | null = this.#latest): ShotReplay {
    if (number === null) throw new LatelightError('NO_SHOT', {});
    const replay = this.#shelf.get(number);
    if (replay === undefined) throw new LatelightError('SHOT_NOT_KEPT', { shot: number });
    return replay;
  }

  /** Keep what may be looked at closer, and say what became of the pull. */
  #outcome(outcome: PullOutcome, timing: Timing): PlayOutcome {
    this.#latest = outcome.kind === 'judged' ? this.#shelf.put(outcome.replay) : null;
    if (outcome.kind === 'not judged') return refusedOutcome(outcome.error);
    const { lanes } = outcome;
    const codes = lanes.codes.map((address) => codeName(this.#symbols, Number.parseInt(address.slice(1), 16)));
    return { ...judgedOutcome(outcome, timing), lanes: { ...lanes, codes }, replay: this.#latest };
  }

  #running(): LiveSession {
    if (this.#session === undefined) throw new LatelightError('INTERNAL', { what: 'play was not started' });
    return this.#session;
  }

  #started({ timing, spotRadiusDots }: LiveSession): PlayStart {
    return { framesPerSecond: 1000 / ticksToMs(timing, ticksPerFrame(timing)), spotRadiusDots };
  }
}

function preparedOf({ image, labels, scenario, lightPath }: PlayRequest): PreparedScenario {
  return prepareScenario(scenarioWith(documentOf(scenario), lightPath), { image, labels });
}

const symbolsOf = ({ labels: file, symbols: own }: Scenario, labels: string | undefined): Symbols =>
  parseSymbols(labels, { file, own });

/** The document of a scenario, checked as it is. Errors: SCENARIO_NOT_JSON, SCENARIO_INVALID. */
function documentOf(text: string): Record<string, unknown> {
  const { ...document } = parseScenario(text);
  return document;
}

/** The scenario with the light path that the page chose. Errors: SCENARIO_NOT_JSON, SCENARIO_INVALID. */
const scenarioWith = (document: Record<string, unknown>, lightPath: LightPathSettings): Scenario =>
  checkScenario({ ...document, lightPath });

const UNSEEN = { account: null, aim: null, replay: null, lanes: null, marks: [], wires: null } as const;

/** A refusal of the program is called as it is while playing. */
const refusedOutcome = ({ code, message, hint }: LatelightError): PlayOutcome => ({
  judgement: code === 'CALIBRATION_REFUSED' ? 'calibration refused' : 'not judged',
  isRight: false,
  text: `${capital(message)}. ${hint}`,
  ...UNSEEN,
});

function judgedOutcome(
  { result, wires }: Extract<PullOutcome, { readonly kind: 'judged' }>,
  timing: Timing,
): Omit<PlayOutcome, 'lanes' | 'replay'> {
  const { judgement, aim } = result;
  const account = sentenceOf(result, timing);
  return {
    judgement,
    isRight: isRightJudgement(judgement),
    text: [`${capital(verdictText(result, timing))}.`, account, ...notesOf(result)].join(' '),
    account,
    aim: { x: aim.x, y: aim.y },
    marks: marksOf(result, timing),
    wires,
  };
}

const marksOf = (result: ShotResult, timing: Timing): ShotMark[] => [
  { name: 'trigger', title: 'trigger', ms: 0 },
  ...instantsOf(result, timing).flatMap(({ name, title, ms }) => (ms === null ? [] : [{ name, title, ms }])),
];

function orRefusal<Answer>(answer: () => Answer): Answer | Refusal {
  try {
    return answer();
  } catch (error) {
    return refusalOf(error);
  }
}

/** What is no refusal of our own is a defect and goes on. */
function refusalOf(error: unknown): Refusal {
  if (error instanceof LatelightError) return { refused: error.message, hint: error.hint };
  throw error;
}
