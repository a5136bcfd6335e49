import { LatelightError } from '../../errors/latelight-error.ts';
import type { OwnFileKind } from './file-kinds.ts';
import type { ReadFile } from './read-files.ts';
import { namedFiles, scenarioTemplate } from './scenario-text.ts';

/** A file as it was taken. */
export interface Taken<Content> {
  readonly name: string;
  readonly content: Content;
  /** Which of the takes it came with: files of one build come together. */
  readonly take: number;
}

/** An own program while its parts are put together; whatever was taken or typed stays until something else takes its place. */
export interface OwnDraft {
  readonly image: Taken<Uint8Array> | undefined;
  readonly labels: Taken<string> | undefined;
  /** JSON text as it was taken or typed; empty = none yet. */
  readonly scenario: string;
  /** The file that the text came from; empty = it is the page's own. */
  readonly scenarioName: string;
  readonly takes: number;
}

export const EMPTY_DRAFT: OwnDraft = {
  image: undefined,
  labels: undefined,
  scenario: '',
  scenarioName: '',
  takes: 0,
};

const PLURALS = { image: 'cartridge images', labels: 'label files', scenario: 'scenarios' } as const;

/** The draft with files that were chosen together. Error: FILES_SEVERAL. */
export function withFiles(draft: OwnDraft, files: readonly ReadFile[]): OwnDraft {
  const take = draft.takes + 1;
  const scenario = onlyOne(files, 'scenario', '');
  const text = scenario === undefined ? undefined : textOf(scenario);
  const named = namedFiles(text ?? draft.scenario);
  const image = onlyOne(files, 'image', named.image);
  const labels = onlyOne(files, 'labels', named.labels);
  const next: OwnDraft = {
    image: image === undefined ? draft.image : { name: image.name, content: image.bytes, take },
    labels: labels === undefined ? draft.labels : { name: labels.name, content: textOf(labels), take },
    scenario: text ?? draft.scenario,
    scenarioName: scenario?.name ?? draft.scenarioName,
    takes: take,
  };
  return text === undefined && isUntouched(draft) ? { ...next, scenario: templateOf(next) } : next;
}

function onlyOne(
  files: readonly ReadFile[],
  kind: keyof typeof PLURALS & OwnFileKind,
  named: string,
): ReadFile | undefined {
  const found = files.filter((file) => file.kind === kind);
  if (found.length < 2) return found[0];
  const meant = found.filter(({ name }) => name === named);
  if (meant.length === 1) return meant[0];
  const names = found.map(({ name }) => `"${name}"`).join(', ');
  throw new LatelightError('FILES_SEVERAL', { count: found.length, kind: PLURALS[kind], names });
}

const textOf = ({ bytes }: ReadFile): string => new TextDecoder().decode(bytes);

/** Nothing has been typed into the scenario, and it came from no file. */
const isUntouched = (draft: OwnDraft): boolean => draft.scenario === '' || draft.scenario === templateOf(draft);

const templateOf = ({ image, labels }: OwnDraft): string =>
  scenarioTemplate(image?.name ?? 'game.nes', labels?.name ?? 'game.lbl');

/** What is still missing, and why it is needed, in sentences. */
export function missingParts({ image, labels, scenario, scenarioName }: OwnDraft): string[] {
  const isTemplate = scenarioName === '' && scenario !== '';
  return [
    ...(image === undefined ? ['The image is missing: without it there is nothing to play.'] : []),
    ...(labels === undefined
      ? [
          'Labels are missing: the file that ld65 writes with -Ln or --dbgfile says where the program keeps its targets and its verdict. A scenario that writes addresses as numbers does without.',
        ]
      : []),
    ...(isTemplate
      ? [
          'There is no scenario file: a scenario says where the targets are and how the program tells what it hit, so that shots can be judged. Below is one to complete.',
        ]
      : []),
  ];
}

/** What may be wrong though it can be played. */
export function doubts({ image, labels, scenario }: OwnDraft): string[] {
  const named = namedFiles(scenario);
  const other = (what: string, name: string, taken: Taken<unknown> | undefined): string[] =>
    taken === undefined || name === '' || name === taken.name
      ? []
      : [`The scenario names the ${what} "${name}"; it is played with "${taken.name}".`];
  return [
    ...other('image', named.image, image),
    ...other('label file', named.labels, labels),
    ...(image !== undefined && labels !== undefined && labels.take < image.take
      ? [`The labels were there before the image: if it was built anew, choose the new "${labels.name}", too.`]
      : []),
  ];
}
