import { readLightPathSettings } from '../../shot/light-path-settings.ts';
import { shortPath } from '../bench/bench-state.ts';
import { specsFor } from '../bench/light-edits.ts';
import {
  aimChoices,
  type BenchSetUp,
  benchPanel,
  imageName,
  type LoadedProgram,
  labelsName,
  type PageScenario,
  panelChoices,
  scenarioOf,
} from './plan-choices.ts';

/** What stands in the form, as it was typed. */
export interface FormValues {
  readonly fromMs: string;
  readonly toMs: string;
  readonly stepMs: string;
  readonly shots: string;
  /** Ids of programs. */
  readonly strategies: readonly string[];
  /** Names of panels and aims. */
  readonly panels: readonly string[];
  readonly aims: readonly string[];
  readonly isRandom: boolean;
}

export type FormField = 'fromMs' | 'toMs' | 'stepMs' | 'shots' | 'strategies' | 'panels' | 'aims';

/** Found and expected, for one field. */
export interface FormFault {
  readonly field: FormField;
  readonly text: string;
}

/** A plan as plain data, the form in which it is saved. */
export type PlanData = Readonly<Record<string, unknown>>;

const PLAN_TITLE = 'Which strategy survives which lag';
/** More columns than this are no map any more. Our choice. */
export const MOST_DELAYS = 200;
const MOST_SHOTS = 100_000;
const SMALLEST_STEP_MS = 0.001;

const delayRange = (): { readonly min: number; readonly max: number } =>
  specsFor('stages')
    .find(({ kind }) => kind === 'pure-delay')!
    .parameters.find(({ name }) => name === 'delayMs')!;

/** What the form holds at first: every strategy, on every panel, at every place. */
export function firstValues(setUp: BenchSetUp, programs: readonly LoadedProgram[]): FormValues {
  return {
    fromMs: '0',
    toMs: '100',
    stepMs: '10',
    shots: '5',
    strategies: programs.map(({ id }) => id),
    panels: [...new Set([...specsFor('panel').map(({ title }) => title), benchPanel(setUp)])],
    aims: aimChoices(setUp, programs).map(({ name }) => name),
    isRandom: true,
  };
}

/** What is wrong in the form; empty = `planOf` makes a plan of it. */
export function formFaults(values: FormValues, setUp: BenchSetUp, programs: readonly LoadedProgram[]): FormFault[] {
  const faults: FormFault[] = [];
  const { min, max } = delayRange();
  const number = (field: FormField, title: string, text: string, least: number, most: number, isWhole = false) => {
    const value = numberOf(text);
    if (value !== undefined && value >= least && value <= most && (!isWhole || Number.isInteger(value))) return value;
    const expected = `${isWhole ? 'a whole number' : 'a number'} from ${least} to ${most}`;
    faults.push({ field, text: `${title}: found "${text}", expected ${expected}` });
    return undefined;
  };
  const from = number('fromMs', 'delay from', values.fromMs, min, max);
  const to = number('toMs', 'delay to', values.toMs, min, max);
  const step = number('stepMs', 'step', values.stepMs, SMALLEST_STEP_MS, max);
  if (from !== undefined && to !== undefined && to < from)
    faults.push({ field: 'toMs', text: `delay to: found ${to}, expected ${from} or more, where the delays begin` });
  if (from !== undefined && to !== undefined && step !== undefined && (to - from) / step >= MOST_DELAYS)
    faults.push({
      field: 'stepMs',
      text: `step: found ${Math.floor((to - from) / step) + 1} delays, expected ${MOST_DELAYS} at most`,
    });
  if (values.isRandom) number('shots', 'shots', values.shots, 1, MOST_SHOTS, true);
  const chosen = (field: FormField, title: string, ids: readonly string[], known: readonly string[]) => {
    if (!known.some((id) => ids.includes(id)))
      faults.push({ field, text: `${title}: found none, expected one or more` });
  };
  chosen(
    'strategies',
    'strategies',
    values.strategies,
    programs.map(({ id }) => id),
  );
  chosen(
    'panels',
    'panels',
    values.panels,
    panelChoices(setUp).map(({ name }) => name),
  );
  chosen(
    'aims',
    'aims',
    values.aims,
    aimChoices(setUp, programs).map(({ name }) => name),
  );
  return faults;
}

/** The plan that a form without faults stands for. */
export function planOf(values: FormValues, setUp: BenchSetUp, programs: readonly LoadedProgram[]): PlanData {
  const chosen = programs.filter(({ id }) => values.strategies.includes(id));
  const { lightPath } = setUp;
  const delayStage = lightPath.stages.findIndex(({ kind }) => kind === 'pure-delay');
  return {
    sweep: 1,
    title: PLAN_TITLE,
    scenario: sharedScenario(chosen, setUp),
    strategies: Object.fromEntries(chosen.map((program) => [program.title, ownEntries(program, chosen)])),
    delays: { fromMs: numberOf(values.fromMs), toMs: numberOf(values.toMs), stepMs: numberOf(values.stepMs) },
    ...(delayStage < 0 ? {} : { delayStage }),
    panels: Object.fromEntries(
      panelChoices(setUp)
        .filter(({ name }) => values.panels.includes(name))
        .map(({ name, setting }) => [name, setting]),
    ),
    aims: Object.fromEntries(
      aimChoices(setUp, programs)
        .filter(({ name }) => values.aims.includes(name))
        .map(({ name, aim }) => [name, aim]),
    ),
    ...(values.isRandom ? {} : { random: [] }),
    // Without anything drawn by lot all shots of a cell are one.
    n: values.isRandom ? numberOf(values.shots) : 1,
  };
}

/** The form that a plan came from, if it came from one; with the light path and aim that it was made with. */
export function formOf(
  plan: PlanData,
  setUp: BenchSetUp,
  programs: readonly LoadedProgram[],
): { readonly values: FormValues; readonly setUp: BenchSetUp } | undefined {
  const scenario = plan['scenario'] as Partial<PageScenario> | undefined;
  const [shot] = Array.isArray(scenario?.shots) ? scenario.shots : [];
  const faults: string[] = [];
  const lightPath = readLightPathSettings(scenario?.['lightPath'], faults);
  if (shot?.aim === undefined || faults.length > 0) return undefined;
  const delays = plan['delays'] as { fromMs?: unknown; toMs?: unknown; stepMs?: unknown } | undefined;
  const names = (axis: string): string[] => Object.keys((plan[axis] ?? {}) as object);
  const own: BenchSetUp = { lightPath, aim: shot.aim };
  const values: FormValues = {
    fromMs: String(delays?.fromMs),
    toMs: String(delays?.toMs),
    stepMs: String(delays?.stepMs),
    shots: String(plan['n']),
    strategies: programs.filter(({ title }) => names('strategies').includes(title)).map(({ id }) => id),
    panels: names('panels'),
    aims: names('aims'),
    isRandom: plan['random'] === undefined,
  };
  for (const candidate of [setUp, own]) {
    if (formFaults(values, candidate, programs).length > 0) continue;
    if (JSON.stringify(planOf(values, candidate, programs)) === JSON.stringify(plan))
      return { values, setUp: candidate };
  }
  return undefined;
}

/** A number as people type it; undefined if it is none. */
function numberOf(text: string): number | undefined {
  const typed = text.trim().replace(',', '.');
  return /^[+-]?(\d+\.?\d*|\.\d+)$/.test(typed) ? Number(typed) : undefined;
}

/** Entries that belong to the plan or are named for each strategy. */
const NOT_OWN = ['scenario', 'title', 'image', 'labels', 'lightPath', 'shots', 'seed', 'hand', 'limits'];

/** What all these programs have, with the light path of the bench and one shot, late enough for every program. */
function sharedScenario(programs: readonly LoadedProgram[], { lightPath, aim }: BenchSetUp): PlanData {
  const all = programs.map(({ scenario }) => scenarioOf(scenario));
  const [first] = all;
  const shared = Object.fromEntries(
    Object.entries(first!).filter(([name]) => all.every((scenario) => name in scenario)),
  );
  const atMs = Math.max(...all.map(({ shots }) => shots[0]!.atMs));
  return {
    ...shared,
    title: PLAN_TITLE,
    image: imageName(programs[0]!),
    labels: labelsName(programs[0]!),
    lightPath: shortPath(lightPath),
    shots: [{ aim, atMs }],
  };
}

function ownEntries(program: LoadedProgram, programs: readonly LoadedProgram[]): PlanData {
  const own = scenarioOf(program.scenario);
  const all = programs.map(({ scenario }) => scenarioOf(scenario));
  const shared = (name: string): boolean => all.every((scenario) => name in scenario);
  const differs = (name: string): boolean =>
    !shared(name) || JSON.stringify(own[name]) !== JSON.stringify(all[0]![name]);
  return {
    image: imageName(program),
    labels: labelsName(program),
    ...Object.fromEntries(Object.entries(own).filter(([name]) => !NOT_OWN.includes(name) && differs(name))),
  };
}
