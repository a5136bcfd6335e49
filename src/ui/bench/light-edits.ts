import { type ModelSetting, presetValues, standardValues } from '../../light/parameters.ts';
import type { ModelSpec } from '../../references/sourced.ts';
import { changedEntries } from '../../shot/cause/apply-cure.ts';
import type { Change } from '../../shot/cause/intervention.ts';
import { LIGHT_PATH_SPECS, type LightPathSettings, readLightPathSettings } from '../../shot/light-path-settings.ts';

export type LightPart = keyof LightPathSettings;

/** One model of a light path: `index` counts signal stages, it is 0 for the other parts. */
export interface Place {
  readonly part: LightPart;
  readonly index: number;
}

const PARTS_BEHIND: readonly LightPart[] = ['panel', 'room', 'optics', 'sensor'];

/** The models in the order in which the light passes them. */
export const placesOf = ({ stages }: LightPathSettings): Place[] => [
  ...stages.map((_, index): Place => ({ part: 'stages', index })),
  ...PARTS_BEHIND.map((part): Place => ({ part, index: 0 })),
];

export const isSamePlace = (a: Place | undefined, b: Place | undefined): boolean =>
  a?.part === b?.part && a?.index === b?.index;

export function settingAt(path: LightPathSettings, { part, index }: Place): ModelSetting {
  return part === 'stages' ? path.stages[index]! : path[part];
}

/** What can stand at a place. */
export const specsFor = (part: LightPart): readonly ModelSpec[] => LIGHT_PATH_SPECS[part];

export const specOf = (part: LightPart, { kind }: ModelSetting): ModelSpec =>
  specsFor(part).find((spec) => spec.kind === kind)!;

/** A model with its standard values. */
export const standardSetting = (spec: ModelSpec): ModelSetting => ({ kind: spec.kind, ...standardValues(spec) });

/** A model with the values of a preset. Error: PARAM_RANGE. */
export const presetSetting = (spec: ModelSpec, preset: string): ModelSetting => ({
  kind: spec.kind,
  ...presetValues(spec, preset),
});

/** The preset that a setting is, if it is one. */
export const presetOf = (spec: ModelSpec, setting: ModelSetting): string | undefined =>
  spec.presets.find(({ values }) => Object.entries(values).every(([name, { value }]) => setting[name] === value))?.id;

/** The path with another model, or other values, at a place; the very same path if nothing changes. */
export function withSetting(path: LightPathSettings, { part, index }: Place, setting: ModelSetting): LightPathSettings {
  if (isSameSetting(settingAt(path, { part, index }), setting)) return path;
  return part === 'stages' ? { ...path, stages: path.stages.with(index, setting) } : { ...path, [part]: setting };
}

export const withValue = (path: LightPathSettings, place: Place, name: string, value: number): LightPathSettings =>
  withSetting(path, place, { ...settingAt(path, place), [name]: value });

/** A stage more, before the one that has this index now. */
export const withStage = (path: LightPathSettings, index: number, setting: ModelSetting): LightPathSettings => ({
  ...path,
  stages: path.stages.toSpliced(index, 0, setting),
});

export const withoutStage = (path: LightPathSettings, index: number): LightPathSettings => ({
  ...path,
  stages: path.stages.toSpliced(index, 1),
});

/** The stage at `from` goes to `to`; the very same path if it cannot. */
export function withStageMoved(path: LightPathSettings, from: number, to: number): LightPathSettings {
  const stage = path.stages[from];
  if (stage === undefined || path.stages[to] === undefined || from === to) return path;
  return { ...path, stages: path.stages.toSpliced(from, 1).toSpliced(to, 0, stage) };
}

/** A light path and an aim. */
export interface Bench {
  readonly lightPath: LightPathSettings;
  readonly aim: { readonly x: number; readonly y: number };
}

/**
 * Those of a cure's changes that the bench can make: of the light path or the aim. What the program could change instead is
 * another way to the same; a change of the image is none.
 */
export const benchChanges = (changes: readonly Change[]): readonly Change[] =>
  changes.some((change) => change.in === 'image')
    ? []
    : changes.filter((change) => change.in === 'scenario' && /^(lightPath|shots\.0\.aim)(\.|$)/.test(change.path));

/** The bench with such changes made; what else the changes are is left. */
export function changedPath({ lightPath, aim }: Bench, changes: readonly Change[]): Bench {
  const scenario = changedEntries({ lightPath, shots: [{ aim }] }, changes) as {
    readonly lightPath: unknown;
    readonly shots: readonly [{ readonly aim: Bench['aim'] }];
  };
  const faults: string[] = [];
  const path = readLightPathSettings(scenario.lightPath, faults);
  return faults.length > 0 ? { lightPath, aim } : { lightPath: path, aim: scenario.shots[0].aim };
}

function isSameSetting(a: ModelSetting, b: ModelSetting): boolean {
  const names = Object.keys(a);
  return names.length === Object.keys(b).length && names.every((name) => a[name] === b[name]);
}

/** `1 frame`, `2 frames`, `50 ms`. */
export const amountText = (value: number, unit: string): string =>
  `${value} ${value === 1 ? unit.replace(/^(frame|dot|unit)s$/, '$1') : unit}`.trim();

/** Whether stages were added, moved or taken out. */
export const hasOtherOrder = ({ stages }: LightPathSettings, before: LightPathSettings): boolean =>
  stages.length !== before.stages.length ||
  stages.some((stage, i) => stage !== before.stages[i] && before.stages.includes(stage));
