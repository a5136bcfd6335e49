import { readLightPathSettings } from '../../shot/light-path-settings.ts';
import { shortPath } from '../bench/bench-state.ts';
import type { BenchSetUp } from './plan-choices.ts';
import type { FormValues } from './plan-form.ts';

/** What stands in the form of the lag map, as it is kept when the page is closed. */
export interface KeptForm {
  readonly values: FormValues;
  /** Light path and aim of an opened plan; undefined: those of the bench. */
  readonly held: BenchSetUp | undefined;
  /** Text of an opened plan that is more than the form can show. */
  readonly asOpened: string | undefined;
}

/** A run as it is kept: its plan, and what is known of it as the lines of a journal. */
export interface KeptRun {
  readonly plan: string;
  readonly journal: readonly string[];
}

/** Version of both. */
const VERSION = 1;

const TEXTS = ['fromMs', 'toMs', 'stepMs', 'shots'] as const;
const LISTS = ['strategies', 'panels', 'aims'] as const;

export function keptFormText({ values, held, asOpened }: KeptForm): string {
  const setUp = held && { lightPath: shortPath(held.lightPath), aim: held.aim };
  return JSON.stringify({ kept: VERSION, values, held: setUp ?? null, asOpened: asOpened ?? null });
}

/** Read what `keptFormText` wrote; else why nobody can read it. */
export function readKeptForm(text: string): { readonly kept: KeptForm } | { readonly faults: readonly string[] } {
  let document: Record<string, unknown>;
  try {
    document = { ...JSON.parse(text) };
  } catch (error) {
    return { faults: [`it is not JSON: ${(error as Error).message}`] };
  }
  const { kept: version, values, held, asOpened } = document;
  if (version !== VERSION)
    return { faults: [`version: found ${JSON.stringify(version) ?? 'none'}, expected ${VERSION}`] };
  const faults = isForm(values) ? [] : ['values: found something else, expected the fields of the form'];
  if (asOpened !== null && typeof asOpened !== 'string')
    faults.push('asOpened: found no text, expected that of a plan');
  const setUp = held === null ? undefined : readSetUp(held, faults);
  return faults.length > 0
    ? { faults }
    : { kept: { values: values as FormValues, held: setUp, asOpened: (asOpened as string | null) ?? undefined } };
}

function isForm(data: unknown): boolean {
  const values = { ...(data as Record<string, unknown>) };
  return (
    TEXTS.every((name) => typeof values[name] === 'string') &&
    LISTS.every((name) => isTexts(values[name])) &&
    typeof values['isRandom'] === 'boolean'
  );
}

function readSetUp(data: unknown, faults: string[]): BenchSetUp {
  const { lightPath, aim } = { ...(data as Record<string, unknown>) };
  const { x, y } = { ...(aim as Record<string, unknown>) };
  if (!Number.isFinite(x) || !Number.isFinite(y)) faults.push('held.aim: found no place, expected x and y in dots');
  return { lightPath: readLightPathSettings(lightPath, faults, 'held.lightPath'), aim: { x: Number(x), y: Number(y) } };
}

export const keptRunRecord = (run: KeptRun): object => ({ version: VERSION, ...run });

/** Read what `keptRunRecord` made; undefined: nobody can read it. */
export function readKeptRun(record: unknown): KeptRun | undefined {
  const { version, plan, journal } = { ...(record as Record<string, unknown>) };
  if (version !== VERSION || typeof plan !== 'string' || !isTexts(journal)) return undefined;
  return { plan, journal };
}

const isTexts = (data: unknown): data is string[] =>
  Array.isArray(data) && data.every((one) => typeof one === 'string');
