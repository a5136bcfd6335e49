import { LatelightError } from '../errors/latelight-error.ts';
import type { LightPathSettings } from '../light/light-path.ts';
import type { ModelSetting } from '../light/parameters.ts';
import { type PreparedScenario, prepareScenario } from '../shot/prepared-scenario.ts';
import { readJson } from '../shot/read-json.ts';
import { readScenario, type Scenario } from '../shot/scenario.ts';
import { Fingerprint } from '../units/hash.ts';
import { AS_SCENARIO, type AxisEntries, cellCount, cellDigits, cellPlace } from './cells.ts';
import { freeAxesOf } from './draws.ts';
import { limitFaults } from './pass-limit.ts';
import { checkPlanDocument, type PlanDocument, type PlannedAim, type RandomAxis } from './plan-format.ts';

/** Where the files of a plan are read from. Paths: that of the plan, and those that plan and scenario name. */
export interface PlanFiles {
  /** Error: FILE_UNREADABLE. */
  text(path: string): string;
  bytes(path: string): Uint8Array;
}

/** A plan that has been checked, with all its files. */
export interface Sweep {
  readonly document: PlanDocument;
  readonly entries: AxisEntries;
  readonly cellCount: number;
  /** One text for plan, scenario, images and labels: a journal goes on only with the plan that it came from. */
  readonly fingerprint: string;
  readonly strategies: readonly PreparedScenario[];
  readonly hands: readonly (ModelSetting | undefined)[];
  readonly parts: SweptParts;
  readonly aims: readonly PlannedAim[];
  /** Which shot of the scenario gives the instant of the pull, for each aim. */
  readonly shotOfAim: readonly number[];
}

/** The settings of the light path that are swept, one for each entry of its axis. */
interface SweptParts {
  readonly stages: readonly LightPathSettings['stages'][];
  readonly panel: readonly ModelSetting[];
  readonly sensor: readonly ModelSetting[];
  readonly room: readonly ModelSetting[];
}

type Data = Readonly<Record<string, unknown>>;

/** What a strategy may not change: it belongs to the plan. */
const PLANNED = ['scenario', 'lightPath', 'shots', 'seed', 'hand', 'limits'];

/** Read a plan and all files that it names. Errors: PLAN_NOT_JSON, PLAN_INVALID (all faults at once), FILE_UNREADABLE, IMAGE_*, LABELS_INVALID, EXPRESSION_*. */
export function openPlan(path: string, files: PlanFiles): Sweep {
  const data = parsePlanJson(files.text(path), path);
  const faults: string[] = [];
  const document = checkPlanDocument(data, faults);
  if (document === undefined) throw invalid(faults);
  const isPath = typeof document.scenario === 'string';
  const scenarioPath = isPath ? besides(path, document.scenario as string) : path;
  const base = isPath ? asRecord(parsePlanJson(files.text(scenarioPath), scenarioPath)) : (document.scenario as Data);
  const fingerprint = new Fingerprint().addText(JSON.stringify(document)).addText(JSON.stringify(base));
  const reader = new PlanReader(document, base, faults);
  const checked = reader.scenarios();
  const parts = reader.parts();
  const hands = reader.hands();
  if (faults.length > 0) throw invalid(faults);
  const strategies = checked.map(({ scenario, own }) => {
    const { prepared, read } = prepare(
      scenario,
      (entry) => own.has(entry),
      { plan: path, scenario: scenarioPath },
      files,
    );
    fingerprint.addText(JSON.stringify(scenario));
    for (const part of read)
      fingerprint.addText(typeof part === 'string' ? part : new Fingerprint().addBytes(part).digest());
    return prepared;
  });
  const { shots } = checked[0]!.scenario;
  const aims = document.aims === undefined ? shots.map(({ aim }) => aim) : Object.values(document.aims);
  const entries = entriesOf(document, shots.length);
  const sweep: Sweep = {
    document,
    entries,
    cellCount: cellCount(entries),
    fingerprint: fingerprint.digest(),
    strategies,
    hands,
    parts,
    aims,
    shotOfAim: document.aims === undefined ? shots.map((_, i) => i) : aims.map(() => 0),
  };
  faults.push(...drawFaults(sweep), ...compareFaults(document), ...limitFaults(document, entries));
  if (faults.length > 0) throw invalid(faults);
  return sweep;
}

/** One cell, ready to run: its scenario, and what its shots draw by lot. The scenario has one shot, with the planned aim if that is a place. */
export function prepareCell(sweep: Sweep, cell: number): PreparedCell {
  const digits = cellDigits(sweep.entries, cell);
  const { stages, panel, sensor, room } = sweep.parts;
  const prepared = sweep.strategies[digits.strategy]!;
  const hand = sweep.hands[digits.hand];
  const plan = prepared.scenario.shots[sweep.shotOfAim[digits.aim]!]!;
  const { hand: _, ...scenario } = prepared.scenario;
  const lightPath: LightPathSettings = {
    ...scenario.lightPath,
    stages: stages[digits.delayMs]!,
    panel: panel[digits.panel]!,
    sensor: sensor[digits.sensor]!,
    room: room[digits.room]!,
  };
  return {
    cell,
    place: cellPlace(sweep.entries, cell),
    prepared: {
      ...prepared,
      scenario: { ...scenario, lightPath, shots: [plan], ...(hand === undefined ? {} : { hand }) },
    },
    aim: sweep.aims[digits.aim]!,
    free: freeAxesOf(lightPath, sweep.document.random),
    n: sweep.document.n,
    seed: sweep.document.seed,
  };
}

export interface PreparedCell {
  readonly cell: number;
  readonly place: ReturnType<typeof cellPlace>;
  readonly prepared: PreparedScenario;
  readonly aim: PlannedAim;
  /** What is drawn by lot for each shot, beside the hand. */
  readonly free: readonly RandomAxis[];
  readonly n: number;
  readonly seed: number;
}

/** Reads the scenarios that a plan makes by changing one thing of the base at a time, so that every fault is found at once. */
class PlanReader {
  readonly #document: PlanDocument;
  readonly #base: Data;
  readonly #faults: string[];
  /** Faults of the base are told once, not with every change. */
  readonly #known = new Set<string>();

  constructor(document: PlanDocument, base: Data, faults: string[]) {
    this.#document = document;
    this.#base = base;
    this.#faults = faults;
  }

  scenarios(): { readonly scenario: Scenario; readonly own: ReadonlySet<string> }[] {
    const { strategies = { [AS_SCENARIO]: {} }, seed } = this.#document;
    if (this.#document.strategies === undefined) this.#check('scenario', this.#base);
    return Object.entries(strategies).flatMap(([name, own]) => {
      for (const key of PLANNED.filter((key) => key in own))
        this.#faults.push(
          `strategies.${name}.${key}: found an entry of this name, allowed none: it belongs to the scenario or the plan`,
        );
      const scenario = this.#check(`strategies.${name}`, { ...this.#base, ...own, seed });
      return scenario === undefined ? [] : [{ scenario, own: new Set(Object.keys(own)) }];
    });
  }

  parts(): SweptParts {
    const { panels, sensors, rooms } = this.#document;
    return {
      stages: this.#stages(),
      panel: this.#part('panel', 'panels', panels),
      sensor: this.#part('sensor', 'sensors', sensors),
      room: this.#part('room', 'rooms', rooms),
    };
  }

  hands(): (ModelSetting | undefined)[] {
    const { hands = { [AS_SCENARIO]: this.#base['hand'] ?? null } } = this.#document;
    return Object.entries(hands).map(([name, hand]) => {
      if (hand === null) return undefined;
      return this.#check(`hands.${name}`, { ...this.#base, hand })?.hand;
    });
  }

  #stages(): LightPathSettings['stages'][] {
    const delays = delaysOf(this.#document);
    const given = asRecord(this.#base['lightPath'])['stages'];
    const stages: readonly unknown[] = Array.isArray(given) ? given : [];
    const { delayStage } = this.#document;
    if (delayStage !== undefined && delayStage >= stages.length)
      this.#faults.push(
        `delayStage: found ${delayStage}, allowed the number of a stage of the scenario, counted from 0; it has ${stages.length}`,
      );
    return delays.flatMap((delayMs) => {
      if (delayMs === null)
        return this.#light('lightPath', {})?.stages === undefined ? [] : [this.#light('lightPath', {})!.stages];
      const changed =
        delayStage === undefined
          ? [...stages, { kind: 'pure-delay', delayMs }]
          : stages.map((stage, i) => (i === delayStage ? { ...asRecord(stage), delayMs } : stage));
      const read = this.#light(`delays (${delayMs} ms)`, { stages: changed });
      return read === undefined ? [] : [read.stages];
    });
  }

  #part(
    part: 'panel' | 'sensor' | 'room',
    axis: string,
    settings: Readonly<Record<string, unknown>> | undefined,
  ): ModelSetting[] {
    const entries: [string, Data][] =
      settings === undefined
        ? [['scenario', {}]]
        : Object.entries(settings).map(([name, setting]) => [`${axis}.${name}`, { [part]: setting }]);
    return entries.flatMap(([path, change]) => this.#light(path, change)?.[part] ?? []);
  }

  #light(path: string, change: Data): LightPathSettings | undefined {
    return this.#check(path, { ...this.#base, lightPath: { ...asRecord(this.#base['lightPath']), ...change } })
      ?.lightPath;
  }

  #check(path: string, document: Data): Scenario | undefined {
    const found: string[] = [];
    const scenario = readScenario(document, found);
    for (const fault of found) {
      if (this.#known.has(fault)) continue;
      this.#known.add(fault);
      this.#faults.push(`${path}: ${fault}`);
    }
    return scenario;
  }
}

/** The scenario of a strategy with its files; from here on its paths are taken from where the plan's path is taken from. */
function prepare(
  given: Scenario,
  isOwn: (entry: string) => boolean,
  folders: Folders,
  files: PlanFiles,
): { prepared: PreparedScenario; read: (string | Uint8Array)[] } {
  const place = (entry: 'image' | 'labels', path: string) =>
    besides(isOwn(entry) ? folders.plan : folders.scenario, path);
  const image = place('image', given.image);
  const bytes = files.bytes(image);
  if (given.labels === undefined)
    return { prepared: prepareScenario({ ...given, image }, { image: bytes }), read: [bytes] };
  const labels = place('labels', given.labels);
  const text = files.text(labels);
  return {
    prepared: prepareScenario({ ...given, image, labels }, { image: bytes, labels: text }),
    read: [bytes, text],
  };
}

/** Files beside which paths stand. */
interface Folders {
  readonly plan: string;
  readonly scenario: string;
}

function entriesOf(document: PlanDocument, shotCount: number): AxisEntries {
  const names = (record: Readonly<Record<string, unknown>> | undefined) =>
    record === undefined ? [AS_SCENARIO] : Object.keys(record);
  return {
    strategy: names(document.strategies),
    hand: names(document.hands),
    delayMs: delaysOf(document),
    panel: names(document.panels),
    sensor: names(document.sensors),
    room: names(document.rooms),
    aim:
      document.aims === undefined
        ? Array.from({ length: shotCount }, (_, i) => `shot ${i + 1}`)
        : Object.keys(document.aims),
  };
}

/** Delays in ms; one null when the plan has none. */
function delaysOf({ delays }: PlanDocument): (number | null)[] {
  if (delays === undefined) return [null];
  if (Array.isArray(delays)) return delays;
  const { fromMs, toMs, stepMs } = delays;
  // A step of 0.1 is not exact: the last delay may lie a billionth of a step beyond the end.
  const count = Math.floor((toMs - fromMs) / stepMs + 1e-9) + 1;
  return Array.from({ length: count }, (_, i) => Math.round((fromMs + i * stepMs) * 1e9) / 1e9);
}

/** Shots of a cell must differ, and an axis that is drawn must exist. */
function drawFaults({ document, parts, hands }: Sweep): string[] {
  const { random, n } = document;
  if (random === undefined) return [];
  const faults: string[] = [];
  const lights = parts.panel.flatMap((panel) => parts.room.map((room) => ({ panel, room })));
  for (const axis of random)
    if (!lights.some((light) => freeAxesOf(light, [axis]).length > 0))
      faults.push(
        `random: found '${axis}', allowed what some cell has: no ${axis === 'lampPhase' ? 'room flickers' : 'backlight is switched'}`,
      );
  const isAlwaysEqual = hands.includes(undefined) && lights.some((light) => freeAxesOf(light, random).length === 0);
  if (n > 1 && isAlwaysEqual)
    faults.push(`n: found ${n}, allowed 1: there are cells in which nothing is drawn by lot, all their shots are one`);
  return faults;
}

function compareFaults({ compare = [], strategies = {} }: PlanDocument): string[] {
  return compare
    .flat()
    .flatMap((name) =>
      Object.hasOwn(strategies, name)
        ? []
        : [
            `compare: found '${name}', allowed a strategy of the plan: ${Object.keys(strategies).join(', ') || 'it has none'}`,
          ],
    );
}

const invalid = (faults: readonly string[]): LatelightError =>
  new LatelightError('PLAN_INVALID', { issues: faults.slice(0, 20).join('; '), count: faults.length });

/** The text of a plan or of its scenario as data, not checked. Error: PLAN_NOT_JSON. */
export function parsePlanJson(json: string, path: string): unknown {
  try {
    return readJson(json);
  } catch (error) {
    throw new LatelightError('PLAN_NOT_JSON', { path, found: (error as Error).message });
  }
}

const asRecord = (data: unknown): Data =>
  typeof data === 'object' && data !== null && !Array.isArray(data) ? (data as Data) : {};

/** A path taken from the folder of the file that names it. */
const besides = (path: string, named: string): string =>
  named.startsWith('/') ? named : path.slice(0, path.lastIndexOf('/') + 1) + named;
