import type { ModelSetting } from '../../light/parameters.ts';
import type { ParameterSpec } from '../../references/sourced.ts';
import type { LightPathSettings, PlayAim } from '../../workers/play.api.ts';
import { type LightPart, type Place, settingAt, specOf } from '../bench/light-edits.ts';

/** What a shot was made with, as far as two of them are compared. */
export interface ComparedSetUp {
  readonly strategy: string;
  readonly lightPath: LightPathSettings;
  /** null: not known. */
  readonly aim: PlayAim | null;
}

/** One thing in which two set-ups differ. */
export interface SetUpDifference {
  readonly what: string;
  readonly kept: string;
  readonly now: string;
}

const PARTS_BEHIND: readonly LightPart[] = ['panel', 'room', 'optics', 'sensor'];

/** What differs, in the order in which the light passes it. */
export function setUpDifferences(kept: ComparedSetUp, now: ComparedSetUp): SetUpDifference[] {
  return [
    different('strategy', kept.strategy, now.strategy),
    different('aim', aimText(kept.aim), aimText(now.aim)),
    stageDifferences(kept.lightPath, now.lightPath),
    PARTS_BEHIND.flatMap((part) => placeDifferences({ part, index: 0 }, kept.lightPath, now.lightPath)),
  ].flat();
}

const different = (what: string, kept: string, now: string): SetUpDifference[] =>
  kept === now ? [] : [{ what, kept, now }];

const aimText = (aim: PlayAim | null): string =>
  aim === null ? 'not known' : `dot ${aim.x.toFixed(1)}, line ${aim.y.toFixed(1)}`;

/** Stages of the same kinds in the same order differ in values; others are told as a whole. */
function stageDifferences(kept: LightPathSettings, now: LightPathSettings): SetUpDifference[] {
  const kinds = ({ stages }: LightPathSettings): string => stages.map(({ kind }) => kind).join();
  if (kinds(kept) !== kinds(now)) return different('stages', stagesText(kept), stagesText(now));
  return kept.stages.flatMap((_, index) => placeDifferences({ part: 'stages', index }, kept, now));
}

function stagesText({ stages }: LightPathSettings): string {
  if (stages.length === 0) return 'none';
  return stages
    .map((stage) => {
      const { title, parameters } = specOf('stages', stage);
      return [title, ...parameters.map((parameter) => valueText(parameter, stage))].join(' ');
    })
    .join(', then ');
}

function placeDifferences(place: Place, keptPath: LightPathSettings, nowPath: LightPathSettings): SetUpDifference[] {
  const [kept, now] = [settingAt(keptPath, place), settingAt(nowPath, place)];
  const [keptSpec, nowSpec] = [specOf(place.part, kept), specOf(place.part, now)];
  if (keptSpec !== nowSpec) return different(place.part, keptSpec.title, nowSpec.title);
  return keptSpec.parameters.flatMap((parameter) =>
    different(`${keptSpec.title}, ${parameter.title}`, valueText(parameter, kept), valueText(parameter, now)),
  );
}

const valueText = ({ name, unit }: ParameterSpec, setting: ModelSetting): string => `${setting[name]} ${unit}`.trim();
