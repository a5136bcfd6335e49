import { OPTICS } from '../light/optics/index.ts';
import { PANEL_SPECS } from '../light/panel/specs.ts';
import { type ModelSetting, standardValues } from '../light/parameters.ts';
import { ROOMS } from '../light/room/index.ts';
import { SENSOR_SPECS } from '../light/sensor/specs.ts';
import { SIGNAL_STAGES } from '../light/signal/index.ts';
import type { ModelSpec, ParameterSpec } from '../references/sourced.ts';

/** One full setting of stages, panel, room, optics and sensor; every parameter has a value. */
export interface LightPathSettings {
  readonly stages: readonly ModelSetting[];
  readonly panel: ModelSetting;
  readonly room: ModelSetting;
  readonly optics: ModelSetting;
  readonly sensor: ModelSetting;
}

const specsOf = (models: readonly { readonly spec: ModelSpec }[]): ModelSpec[] => models.map(({ spec }) => spec);

/**
 * The models that each part of a light path can be, for schemas, help texts and forms. Panels and sensors themselves, most
 * of the light path's code, are not needed for that.
 */
export const LIGHT_PATH_SPECS: Readonly<Record<keyof LightPathSettings, readonly ModelSpec[]>> = {
  stages: specsOf(SIGNAL_STAGES),
  panel: PANEL_SPECS,
  room: specsOf(ROOMS),
  optics: specsOf(OPTICS),
  sensor: SENSOR_SPECS,
};

const MOST_STAGES = 16;

/**
 * Read the light path of a scenario. A model is `{ kind, preset?, ...values }`: what is not given comes from the preset
 * or, without one, from the model's standard values. Faults are added as `path: found ..., allowed ...`, the path
 * begins with the name of the entry.
 */
export function readLightPathSettings(data: unknown, faults: string[], entry = 'lightPath'): LightPathSettings {
  const given = isRecord(data) ? data : {};
  if (!isRecord(data))
    faults.push(`${entry}: found ${show(data)}, allowed an object with stages, panel, room, optics and sensor`);
  for (const name of Object.keys(given)) {
    if (!(name in LIGHT_PATH_SPECS))
      faults.push(`${entry}.${show(name)}: found an entry of this name, allowed stages, panel, room, optics, sensor`);
  }
  const read = (part: keyof LightPathSettings) =>
    readModel(LIGHT_PATH_SPECS[part], given[part], `${entry}.${part}`, faults);
  return {
    stages: readStages(given['stages'] ?? [], faults, entry),
    panel: read('panel'),
    room: read('room'),
    optics: read('optics'),
    sensor: read('sensor'),
  };
}

function readStages(data: unknown, faults: string[], entry: string): ModelSetting[] {
  if (!Array.isArray(data) || data.length > MOST_STAGES) {
    faults.push(`${entry}.stages: found ${show(data)}, allowed a list of at most ${MOST_STAGES} stages`);
    return [];
  }
  return data.map((stage, i) => readModel(LIGHT_PATH_SPECS.stages, stage, `${entry}.stages.${i}`, faults));
}

/** Read `{ kind, preset?, ...values }` of one of these models. Faults as of `readLightPathSettings`. */
export function readModel(specs: readonly ModelSpec[], data: unknown, path: string, faults: string[]): ModelSetting {
  const kinds = specs.map((spec) => `'${spec.kind}'`).join(' or ');
  if (!isRecord(data)) {
    faults.push(`${path}: found ${show(data)}, allowed an object with kind ${kinds}`);
    return { kind: '' };
  }
  const spec = specs.find(({ kind }) => kind === data['kind']);
  if (spec === undefined) {
    faults.push(`${path}.kind: found ${show(data['kind'])}, allowed ${kinds}`);
    return { kind: '' };
  }
  const values: Record<string, number> = { ...standardValues(spec), ...readPreset(spec, data['preset'], path, faults) };
  for (const [name, value] of Object.entries(data)) {
    if (name !== 'kind' && name !== 'preset') readValue(spec, name, value, path, values, faults);
  }
  return { kind: spec.kind, ...values };
}

function readPreset(spec: ModelSpec, id: unknown, path: string, faults: string[]): Record<string, number> {
  if (id === undefined) return {};
  const preset = spec.presets.find((candidate) => candidate.id === id);
  if (preset === undefined) {
    const ids = spec.presets.map((candidate) => `'${candidate.id}'`).join(' or ');
    faults.push(`${path}.preset: found ${show(id)}, allowed ${ids || 'none: this model has no presets'}`);
    return {};
  }
  return Object.fromEntries(Object.entries(preset.values).map(([name, { value }]) => [name, value]));
}

function readValue(
  spec: ModelSpec,
  name: string,
  value: unknown,
  path: string,
  values: Record<string, number>,
  faults: string[],
): void {
  const parameter = spec.parameters.find((candidate) => candidate.name === name);
  if (parameter === undefined) {
    const names = spec.parameters.map((candidate) => candidate.name).join(', ');
    faults.push(
      `${path}.${name}: found an entry of this name, allowed kind, preset${names === '' ? '' : `, ${names}`}`,
    );
    return;
  }
  if (isWithin(parameter, value)) values[name] = value;
  else faults.push(`${path}.${name}: found ${show(value)}, allowed ${rangeText(parameter)}`);
}

function isWithin({ min, max, isInteger }: ParameterSpec, value: unknown): value is number {
  return typeof value === 'number' && value >= min && value <= max && (isInteger !== true || Number.isInteger(value));
}

/** The range of a parameter in words, for errors and help texts. */
export function rangeText({ min, max, unit, isInteger }: ParameterSpec): string {
  return `${isInteger === true ? 'a whole number ' : ''}${min} to ${max}${unit === '' ? '' : ` ${unit}`}`;
}

const isRecord = (data: unknown): data is Record<string, unknown> =>
  typeof data === 'object' && data !== null && !Array.isArray(data);

/** A value as it stands in the document, cut to a readable length. */
export function show(value: unknown): string {
  // JSON has no functions: one can only come from a list's prototype where an object was expected.
  if (value === undefined || typeof value === 'function') return 'nothing';
  const json = typeof value === 'number' ? String(value) : JSON.stringify(value);
  return json.length <= 60 ? json : `${json.slice(0, 57)}...`;
}
