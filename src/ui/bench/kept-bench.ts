import { type LightPathSettings, readLightPathSettings } from '../../shot/light-path-settings.ts';
import type { Rendering } from '../../workers/play.api.ts';
import { ownImageName } from '../own-program/own-id.ts';
import { type BenchState, benchDocument, readBenchDocument, shortPath } from './bench-state.ts';

/** How flashes are drawn when the page is opened again. Full flashes are never kept: whoever wants them is asked again. */
export type KeptRendering = Exclude<Rendering, 'full'>;

/** The bench as it is kept when the page is closed: also what can be taken back, and what is typed. */
export interface KeptBench {
  readonly state: BenchState;
  /** Light paths before and after that of the state. */
  readonly past: readonly LightPathSettings[];
  readonly future: readonly LightPathSettings[];
  /** What is typed into fields of stations where there is no value yet. */
  readonly drafts: Readonly<Record<string, string>>;
  readonly rendering: KeptRendering;
}

/** What was kept, or why nobody can read it. */
export type ReadKept = { readonly kept: KeptBench } | { readonly faults: readonly string[] };

/** Version of the text. */
const VERSION = 1;
/** Steps that are kept; more are only there until the page is closed. Our choice. */
const KEPT_STEPS = 50;

export function keptBenchText({ state, past, future, drafts, rendering }: KeptBench): string {
  return JSON.stringify({
    kept: VERSION,
    ...benchDocument(state),
    past: past.slice(-KEPT_STEPS).map(shortPath),
    future: future.slice(0, KEPT_STEPS).map(shortPath),
    drafts,
    rendering,
  });
}

/** Read what `keptBenchText` wrote. An own image is taken for one that is there. */
export function readKeptBench(text: string, standing: BenchState, strategies: readonly string[]): ReadKept {
  let document: Record<string, unknown>;
  try {
    document = { ...JSON.parse(text) };
  } catch (error) {
    return { faults: [`it is not JSON: ${(error as Error).message}`] };
  }
  const { kept: version, past, future, drafts, strategy, rendering = 'outline' } = document;
  if (version !== VERSION)
    return { faults: [`version: found ${JSON.stringify(version) ?? 'none'}, expected ${VERSION}`] };
  const isOwn = typeof strategy === 'string' && ownImageName(strategy) !== undefined;
  const { state, faults } = readBenchDocument(document, standing, isOwn ? [...strategies, strategy] : strategies);
  const found = [...faults];
  const paths = { past: readPaths(past, 'past', found), future: readPaths(future, 'future', found) };
  if (!isTexts(drafts)) found.push('drafts: found something else, expected texts by field');
  if (!isRendering(rendering))
    found.push(`rendering: found ${JSON.stringify(rendering)}, expected "outline" or "reduced"`);
  if (found.length > 0 || !isRendering(rendering)) return { faults: found };
  return { kept: { state, ...paths, drafts: drafts as KeptBench['drafts'], rendering: keptRendering(rendering) } };
}

function readPaths(data: unknown, name: string, faults: string[]): LightPathSettings[] {
  if (!Array.isArray(data)) {
    faults.push(`${name}: found no list, expected one of light paths`);
    return [];
  }
  return data.map((path, i) => readLightPathSettings(path, faults, `${name}.${i}`));
}

const isRendering = (data: unknown): data is Rendering => ['outline', 'reduced', 'full'].includes(data as string);

export const keptRendering = (rendering: Rendering): KeptRendering => (rendering === 'full' ? 'outline' : rendering);

const isTexts = (data: unknown): boolean =>
  typeof data === 'object' &&
  data !== null &&
  !Array.isArray(data) &&
  Object.values(data).every((text) => typeof text === 'string');
