import * as v from 'valibot';
import { LatelightError } from '../errors/latelight-error.ts';
import type { ModelSetting } from '../light/parameters.ts';
import { HANDS } from './hand.ts';
import { type LightPathSettings, readLightPathSettings, readModel, show } from './light-path-settings.ts';
import { readJson } from './read-json.ts';

/** Version of the scenario format that this code writes and reads. */
export const SCENARIO_VERSION = 1;

const number = (min: number, max: number) =>
  v.pipe(v.number(), v.minValue(min, `at least ${min}`), v.maxValue(max, `at most ${max}`));
const wholeNumber = (min: number, max: number) =>
  v.pipe(
    v.number(),
    v.integer('a whole number'),
    v.minValue(min, `at least ${min}`),
    v.maxValue(max, `at most ${max}`),
  );
const text = (longest: number) =>
  v.pipe(v.string(), v.minLength(1, 'a text that is not empty'), v.maxLength(longest, `at most ${longest} characters`));
const expression = text(500);
const address = v.union([wholeNumber(0, 0xffff), text(100)]);

const BUTTONS = ['A', 'B', 'Select', 'Start', 'Up', 'Down', 'Left', 'Right'] as const;

const pull = v.strictObject({
  aim: v.strictObject({ x: number(-256, 512), y: number(-240, 480) }),
  atMs: number(0, 600_000),
  squeezeMs: v.exactOptional(number(1, 2000), 80),
});

const schema = v.strictObject({
  scenario: v.literal(SCENARIO_VERSION),
  title: text(200),
  image: text(1000),
  labels: v.exactOptional(text(1000)),
  symbols: v.exactOptional(v.record(text(100), wholeNumber(0, 0xffff)), {}),
  timing: v.exactOptional(v.picklist(['image', '60hz', '50hz', '50hz-clone']), 'image'),
  alignment: v.exactOptional(
    v.strictObject({
      cpuPhaseTicks: v.exactOptional(wholeNumber(0, 15), 0),
      putParity: v.exactOptional(v.picklist([0, 1]), 0),
    }),
    { cpuPhaseTicks: 0, putParity: 0 },
  ),
  ports: v.exactOptional(
    v.tuple([v.picklist(['none', 'pad', 'light sensor']), v.picklist(['none', 'pad', 'light sensor'])]),
    ['pad', 'light sensor'],
  ),
  pads: v.exactOptional(
    v.pipe(
      v.array(
        v.strictObject({
          port: v.picklist([1, 2]),
          button: v.picklist(BUTTONS),
          fromMs: number(0, 600_000),
          toMs: number(0, 600_000),
        }),
      ),
      v.maxLength(10_000, 'at most 10000 presses'),
    ),
    [],
  ),
  targets: v.strictObject({
    count: wholeNumber(1, 16),
    isLive: v.exactOptional(expression, '1'),
    x: expression,
    y: expression,
    width: expression,
    height: expression,
    marginDots: v.exactOptional(number(0, 64), 0),
    boxX: v.exactOptional(expression),
    boxY: v.exactOptional(expression),
  }),
  said: v.strictObject({
    on: v.picklist(['write', 'fetch']),
    at: address,
    target: expression,
  }),
  limits: v.exactOptional(
    v.strictObject({
      hitShare: v.exactOptional(number(0.5, 1), 0.65),
      nothingShare: v.exactOptional(number(0, 0.5), 0.1),
    }),
    { hitShare: 0.65, nothingShare: 0.1 },
  ),
  deadlineFrames: v.exactOptional(wholeNumber(1, 600)),
  lightPath: v.looseObject({}),
  pullsLightPath: v.exactOptional(v.looseObject({})),
  calibration: v.exactOptional(
    v.strictObject({
      at: address,
      bytes: v.exactOptional(wholeNumber(1, 4), 1),
      unitCycles: number(0.001, 1_000_000),
      refused: v.exactOptional(expression),
    }),
  ),
  hand: v.exactOptional(v.looseObject({})),
  pulls: v.exactOptional(v.pipe(v.array(pull), v.maxLength(100, 'at most 100 pulls')), []),
  settleMs: v.exactOptional(number(0, 10_000), 200),
  shots: v.pipe(v.array(pull), v.minLength(1, 'at least one shot'), v.maxLength(10_000, 'at most 10000 shots')),
  seed: v.exactOptional(wholeNumber(0, 0xffff_ffff), 1),
});

/** A scenario as checked, all defaults filled in. */
export type Scenario = Omit<v.InferOutput<typeof schema>, 'lightPath' | 'pullsLightPath' | 'hand'> & {
  readonly lightPath: LightPathSettings;
  /** The way of the light until the wand turns from the last pull to the shot; not given = `lightPath` as well. */
  readonly pullsLightPath?: LightPathSettings;
  /** How the hand moves after the trigger; not given = it keeps still. */
  readonly hand?: ModelSetting;
};
export type ShotPlan = Scenario['shots'][number];
export type ButtonName = (typeof BUTTONS)[number];
export const BUTTON_NAMES: readonly ButtonName[] = BUTTONS;

/** Read a scenario from its JSON text. Errors: SCENARIO_NOT_JSON, SCENARIO_INVALID (all faults at once). */
export function parseScenario(json: string): Scenario {
  return checkScenario(parseScenarioJson(json));
}

/** Check a scenario that is already plain data. Errors: SCENARIO_INVALID. */
export function checkScenario(data: unknown): Scenario {
  const faults: string[] = [];
  const scenario = readScenario(data, faults);
  if (scenario !== undefined) return scenario;
  throw new LatelightError('SCENARIO_INVALID', { issues: faults.slice(0, 20).join('; '), count: faults.length });
}

/** A scenario that is already plain data; undefined if it has faults, which are put into `faults`, empty before. */
export function readScenario(data: unknown, faults: string[]): Scenario | undefined {
  const result = v.safeParse(schema, data);
  faults.push(...(result.success ? orderFaults(result.output) : result.issues.map(faultOf)));
  const given = isRecord(data) ? data : {};
  const lightPath = readLightPathSettings(given['lightPath'], faults);
  const pullsLightPath =
    given['pullsLightPath'] === undefined
      ? {}
      : { pullsLightPath: readLightPathSettings(given['pullsLightPath'], faults, 'pullsLightPath') };
  const hand = given['hand'] === undefined ? {} : { hand: readModel(HANDS, given['hand'], 'hand', faults) };
  if (!result.success || faults.length > 0) return undefined;
  const { hand: _, pullsLightPath: __, ...checked } = result.output;
  return { ...checked, lightPath, ...pullsLightPath, ...hand };
}

/** Pulls follow each other, and every shot follows the last pull; the wand needs time to settle on the next aim. */
function orderFaults({ pulls, shots, settleMs }: v.InferOutput<typeof schema>): string[] {
  const free = (before: (typeof pulls)[number] | undefined): number =>
    before === undefined ? 0 : before.atMs + before.squeezeMs + settleMs;
  const check = (path: string, found: number, earliest: number): string[] =>
    found >= earliest
      ? []
      : [`${path}: found ${found}, allowed ${earliest} or more: the end of the pull before and settleMs (${settleMs})`];
  return [
    ...pulls.flatMap((pull, i) => check(`pulls.${i}.atMs`, pull.atMs, free(pulls[i - 1]))),
    ...shots.flatMap((shot, i) => check(`shots.${i}.atMs`, shot.atMs, free(pulls[pulls.length - 1]))),
  ];
}

const isRecord = (data: unknown): data is Record<string, unknown> =>
  typeof data === 'object' && data !== null && !Array.isArray(data);

/** The document of a scenario, not checked. Error: SCENARIO_NOT_JSON. */
export function parseScenarioJson(json: string): unknown {
  try {
    return readJson(json);
  } catch (error) {
    throw new LatelightError('SCENARIO_NOT_JSON', {
      found: json.trim() === '' ? 'the file is empty' : (error as Error).message,
    });
  }
}

/** One fault as `path: found ..., allowed ...`. */
export function faultOf(issue: v.BaseIssue<unknown>): string {
  const path = v.getDotPath(issue) ?? 'the whole document';
  if (issue.type === 'strict_object' && issue.expected === 'never')
    return `${path}: found an entry of this name, allowed none; check its spelling`;
  if (issue.type === 'strict_object' && issue.received === 'undefined')
    return `${path}: found nothing, allowed a value: this entry must be given`;
  return `${path}: found ${show(issue.input)}, allowed ${allowedBy(issue)}`;
}

function allowedBy(issue: v.BaseIssue<unknown>): string {
  if (issue.kind === 'validation') return issue.message;
  return (issue.expected ?? issue.message)
    .replaceAll('"', "'")
    .replace(/^\((.*)\)$/, '$1')
    .replaceAll(' | ', ' or ');
}
