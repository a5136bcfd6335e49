import type { ModelSetting } from '../../light/parameters.ts';
import { type LightPathSettings, readLightPathSettings } from '../../shot/light-path-settings.ts';
import { readJson } from '../../shot/read-json.ts';
import type { PlayAim } from '../../workers/play.api.ts';
import { ownImageName } from '../own-program/own-id.ts';
import { type LightPart, placesOf, settingAt, specOf, standardSetting } from './light-edits.ts';

/** Everything that is chosen on the bench. */
export interface BenchState {
  /** Id of the program. */
  readonly strategy: string;
  readonly lightPath: LightPathSettings;
  readonly aim: PlayAim;
}

/** A state that was read, and what was wrong with it; what is wrong is left as it is in the state that stood. */
export interface ReadBench {
  readonly state: BenchState;
  readonly faults: readonly string[];
}

/** Version of the address and of the file. */
const VERSION = 1;
const AIM_RANGE = { least: -16, most: 272 } as const;
const DECIMALS = 2;

/** The first lamp of the practice street, on a tube. */
export const FIRST_STATE: BenchState = {
  strategy: 'same-frame-tested',
  aim: { x: 52, y: 36 },
  lightPath: readLightPathSettings(
    {
      panel: { kind: 'beam-tube' },
      room: { kind: 'constant-light', illuminanceLux: 50 },
      optics: { kind: 'gaussian-spot', radiusDots: 6 },
      sensor: { kind: 'wide-band' },
    },
    [],
  ),
};

/** The bench as plain data that `readBenchDocument` reads. */
export const benchDocument = ({ strategy, lightPath, aim }: BenchState): Readonly<Record<string, unknown>> => ({
  bench: VERSION,
  strategy,
  aim,
  lightPath: shortPath(lightPath),
});

/** The bench as a file: JSON that `readBenchFile` reads. */
export const benchFileText = (state: BenchState): string => `${JSON.stringify(benchDocument(state), null, 2)}\n`;

/** Read a file of the bench. */
export function readBenchFile(text: string, standing: BenchState, strategies: readonly string[]): ReadBench {
  let document: unknown;
  try {
    document = readJson(text);
  } catch (error) {
    return { state: standing, faults: [`the file is not JSON: ${(error as Error).message}`] };
  }
  const other = otherKind(document);
  if (other !== undefined) return { state: standing, faults: [other] };
  return readBenchDocument(document, standing, strategies);
}

/** What a file without a bench is, and where it is opened. */
function otherKind(document: unknown): string | undefined {
  if (typeof document !== 'object' || document === null || 'bench' in document) return undefined;
  if ('sweep' in document) return 'it is the plan of a lag map, opened there with "Open a plan"';
  if ('scenario' in document) return 'it is a scenario, dropped on the page together with its image';
  return undefined;
}

/** Read what `benchDocument` made; other entries are nobody's. */
export function readBenchDocument(document: unknown, standing: BenchState, strategies: readonly string[]): ReadBench {
  if (typeof document !== 'object' || document === null || Array.isArray(document))
    return {
      state: standing,
      faults: ['the file: found no object, expected one with bench, strategy, aim, lightPath'],
    };
  const { bench, strategy, aim, lightPath } = document as Record<string, unknown>;
  const { x, y } = (typeof aim === 'object' && aim !== null ? aim : {}) as Record<string, unknown>;
  return readParts({ version: bench, strategy, x, y, light: lightPath, lightName: 'lightPath' }, standing, strategies);
}

/** The bench as the part of an address behind the name of the screen. */
export function benchQuery({ strategy, lightPath, aim }: BenchState): string {
  const place = `${Number(aim.x.toFixed(DECIMALS))},${Number(aim.y.toFixed(DECIMALS))}`;
  const light = encodeURIComponent(JSON.stringify(shortPath(lightPath)));
  return `v=${VERSION}&strategy=${encodeURIComponent(strategy)}&aim=${place}&light=${light}`;
}

/** Read what `benchQuery` wrote. An empty query is no fault. */
export function readBenchQuery(query: string, standing: BenchState, strategies: readonly string[]): ReadBench {
  if (query === '') return { state: standing, faults: [] };
  const entries = new URLSearchParams(query);
  const [x, y] = (entries.get('aim') ?? '').split(',').map((text) => (text.trim() === '' ? Number.NaN : Number(text)));
  const version = entries.has('v') ? Number(entries.get('v')) : undefined;
  const light = lightOf(entries);
  return readParts(
    { version, strategy: entries.get('strategy'), x, y, light, lightName: 'light' },
    standing,
    strategies,
  );
}

/** undefined where there is none; `NO_JSON` where it cannot be read. */
function lightOf(entries: URLSearchParams): unknown {
  const text = entries.get('light');
  if (text === null) return undefined;
  try {
    return JSON.parse(text);
  } catch {
    return NO_JSON;
  }
}

const NO_JSON = Symbol('no JSON');

interface Parts {
  readonly version: unknown;
  readonly strategy: unknown;
  readonly x: unknown;
  readonly y: unknown;
  readonly light: unknown;
  /** What its entry is called. */
  readonly lightName: string;
}

function readParts(
  { version, strategy, x, y, light, lightName }: Parts,
  standing: BenchState,
  known: readonly string[],
): ReadBench {
  if (version !== VERSION)
    return {
      state: standing,
      faults: [`version: found ${version ?? 'none'}, expected ${VERSION} (entry "bench" of a file, "v" of a link)`],
    };
  const faults: string[] = [];
  if (typeof strategy !== 'string' || !known.includes(strategy)) faults.push(strategyFault(strategy, known));
  for (const [name, value] of [
    ['x', x],
    ['y', y],
  ] as const) {
    if (!isWithin(value))
      faults.push(
        `aim ${name}: found ${value === undefined || Number.isNaN(value) ? 'no number' : String(value)}, expected a number from ${AIM_RANGE.least} to ${AIM_RANGE.most}`,
      );
  }
  const isThere = light !== undefined && light !== NO_JSON;
  if (!isThere)
    faults.push(
      `${lightName}: found ${light === NO_JSON ? 'no JSON' : 'none'}, expected the light path as this page writes it`,
    );
  const lightPath = readLightPathSettings(isThere ? light : FIRST_STATE.lightPath, faults, lightName);
  if (faults.length > 0) return { state: standing, faults };
  return { state: { strategy: strategy as string, lightPath, aim: { x: x as number, y: y as number } }, faults };
}

function strategyFault(strategy: unknown, known: readonly string[]): string {
  const image = typeof strategy === 'string' ? ownImageName(strategy) : undefined;
  return image === undefined
    ? `strategy: found ${strategy === null ? 'none' : JSON.stringify(strategy)}, expected ${known.join(' or ')}`
    : `strategy: the own image "${image}" is not on this page, and neither a link nor a file of the bench can carry it; choose its files here first`;
}

const isWithin = (value: unknown): value is number =>
  typeof value === 'number' && value >= AIM_RANGE.least && value <= AIM_RANGE.most;

/** A light path as somebody would write it: without what is the model's standard. */
export function shortPath(path: LightPathSettings): Record<string, unknown> {
  const short: Record<string, unknown> = { stages: [] };
  for (const place of placesOf(path)) {
    const setting = shortSetting(place.part, settingAt(path, place));
    if (place.part === 'stages') (short['stages'] as unknown[]).push(setting);
    else short[place.part] = setting;
  }
  return short;
}

function shortSetting(part: LightPart, setting: ModelSetting): Record<string, unknown> {
  const standard = standardSetting(specOf(part, setting));
  return Object.fromEntries(
    Object.entries(setting).filter(([name, value]) => name === 'kind' || standard[name] !== value),
  );
}
