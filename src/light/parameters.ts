import { LatelightError } from '../errors/latelight-error.ts';
import type { ModelSpec, ParameterSpec, ParameterValues } from '../references/sourced.ts';

/** A model of the light path: what forms, schemas and pages need to know of it, and the factory. */
export interface LightModel<Context, Built> {
  readonly spec: ModelSpec;
  /**
   * Build the model with these values, in the units of its parameters.
   * Error: PARAM_RANGE for an unknown or missing name and for a value out of range.
   */
  create(values: ParameterValues, context: Context): Built;
}

/** One model and its values, as a scenario writes it: `{ kind: 'pure-delay', delayMs: 32 }`. */
export interface ModelSetting {
  readonly kind: string;
  readonly [parameter: string]: number | string;
}

/** The values of a setting without its kind. Their types are checked by `checkParameters`. */
export function settingValues(setting: ModelSetting): ParameterValues {
  const { kind: _, ...values } = setting;
  return values as ParameterValues;
}

/** The model of this kind in a folder's list. Error: PARAM_RANGE naming the kinds that exist. */
export function findModel<Model extends { readonly spec: ModelSpec }>(
  models: readonly Model[],
  kind: string,
  room: string,
): Model {
  const model = models.find(({ spec }) => spec.kind === kind);
  if (model !== undefined) return model;
  const allowed = models.map(({ spec }) => spec.kind).join(' or ');
  throw new LatelightError('PARAM_RANGE', { name: `kind of ${room}`, found: String(kind), allowed });
}

/** Error: PARAM_RANGE if a name is unknown or missing or a value is not a number within its range. */
export function checkParameters(spec: ModelSpec, values: ParameterValues): void {
  for (const parameter of spec.parameters) checkParameter(spec, parameter, values[parameter.name]);
  const known = spec.parameters.map(({ name }) => name);
  const unknown = Object.keys(values).find((name) => !known.includes(name));
  if (unknown === undefined) return;
  throw new LatelightError('PARAM_RANGE', {
    name: `a parameter of ${spec.kind}`,
    found: `"${unknown}"`,
    allowed: known.join(', ') || 'none',
  });
}

function checkParameter(spec: ModelSpec, parameter: ParameterSpec, value: unknown): void {
  const { name, unit, min, max, isInteger } = parameter;
  const isFit = typeof value === 'number' && value >= min && value <= max;
  if (isFit && (isInteger !== true || Number.isInteger(value))) return;
  throw new LatelightError('PARAM_RANGE', {
    name: `${spec.kind}.${name}`,
    found: value === undefined ? 'missing' : String(value),
    allowed: `${isInteger === true ? 'a whole number ' : ''}${min} to ${max} ${unit}`.trimEnd(),
  });
}

/** The standard value of every parameter. */
export const standardValues = (spec: ModelSpec): ParameterValues =>
  Object.fromEntries(spec.parameters.map(({ name, standard }) => [name, standard.value]));

/** The values of a preset. Error: PARAM_RANGE naming the presets that exist. */
export function presetValues(spec: ModelSpec, presetId: string): ParameterValues {
  const preset = spec.presets.find(({ id }) => id === presetId);
  if (preset !== undefined) {
    return Object.fromEntries(Object.entries(preset.values).map(([name, { value }]) => [name, value]));
  }
  const allowed = spec.presets.map(({ id }) => id).join(' or ');
  throw new LatelightError('PARAM_RANGE', { name: `preset of ${spec.kind}`, found: presetId, allowed });
}
