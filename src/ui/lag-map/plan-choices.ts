import type { ModelSetting } from '../../light/parameters.ts';
import type { LightPathSettings, PlayAim } from '../../workers/play.api.ts';
import { shortPath } from '../bench/bench-state.ts';
import { presetOf, specOf, specsFor } from '../bench/light-edits.ts';

/** A playable program with its files. */
export interface LoadedProgram {
  readonly id: string;
  readonly title: string;
  readonly image: Uint8Array;
  readonly labels: string;
  /** Its scenario as JSON text; light path and shots are those of the plan. */
  readonly scenario: string;
}

/** What the bench lends to a plan. */
export interface BenchSetUp {
  readonly lightPath: LightPathSettings;
  readonly aim: PlayAim;
}

export interface NamedPanel {
  readonly name: string;
  readonly setting: Readonly<Record<string, unknown>>;
}

export interface NamedAim {
  readonly name: string;
  readonly aim: PlayAim;
}

/** Names of a program's files, as they lie beside each other. */
export const imageName = ({ id }: Pick<LoadedProgram, 'id'>): string => `${id}.bin`;
export const labelsName = ({ id }: Pick<LoadedProgram, 'id'>): string => `${id}.lbl`;

/** Every panel with its standard values, and that of the bench if it has others. */
export function panelChoices({ lightPath }: BenchSetUp): NamedPanel[] {
  const standard = specsFor('panel').map(({ kind, title }) => ({ name: title, setting: { kind } }));
  if (isStandard(lightPath.panel)) return standard;
  const { title } = specOf('panel', lightPath.panel);
  const setting = shortPath(lightPath)['panel'] as NamedPanel['setting'];
  const preset = presetOf(specOf('panel', lightPath.panel), lightPath.panel);
  return [...standard, { name: `${title} of the bench${preset === undefined ? '' : `, ${preset}`}`, setting }];
}

/** The panel that stands on the bench. */
export function benchPanel(setUp: BenchSetUp): string {
  const choices = panelChoices(setUp);
  const own = isStandard(setUp.lightPath.panel)
    ? choices.find(({ setting }) => setting['kind'] === setUp.lightPath.panel.kind)
    : choices.at(-1);
  return own!.name;
}

const isStandard = (panel: ModelSetting): boolean =>
  specOf('panel', panel).parameters.every(({ name, standard }) => panel[name] === standard.value);

/** Every place that the scenarios shoot at, and the aim of the bench. */
export function aimChoices({ aim }: BenchSetUp, programs: readonly LoadedProgram[]): NamedAim[] {
  const aims = new Map<string, NamedAim>();
  const add = (one: PlayAim) => {
    const name = `x ${rounded(one.x)}, y ${rounded(one.y)}`;
    if (!aims.has(name)) aims.set(name, { name, aim: { x: rounded(one.x), y: rounded(one.y) } });
  };
  for (const { scenario } of programs) for (const shot of scenarioOf(scenario).shots) add(shot.aim);
  add(aim);
  return [...aims.values()];
}

const rounded = (value: number): number => Number(value.toFixed(2));

/** A scenario of the page: it has been checked where it was made. */
export interface PageScenario {
  readonly shots: readonly { readonly aim: PlayAim; readonly atMs: number }[];
  readonly [entry: string]: unknown;
}

export const scenarioOf = (text: string): PageScenario => JSON.parse(text) as PageScenario;
