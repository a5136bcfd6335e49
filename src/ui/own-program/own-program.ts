import { type ProgramFault, programFaults } from '../../shot/program-check.ts';
import { parseScenario } from '../../shot/scenario.ts';
import type { BenchState } from '../bench/bench-state.ts';
import { fetchProgram, type PlayableProgram, type ProgramFiles } from '../programs.ts';
import type { OwnDraft } from './own-draft.ts';
import { ownId } from './own-id.ts';
import { completeScenario } from './scenario-text.ts';

/** A program that somebody has opened on the page. */
export interface OwnProgram {
  /** As a bench and an address name it. */
  readonly id: string;
  readonly title: string;
  readonly files: ProgramFiles;
  /** Counts what was put on the bench: shots of one version are not those of another. */
  readonly version: number;
  /** False: the instant of its shot is found when it is shot at. */
  readonly hasShots: boolean;
}

/** Everything that keeps a draft from being played; an image that is missing is told by `missingParts`. */
export function draftFaults({ image, labels, scenario }: OwnDraft): ProgramFault[] {
  if (image === undefined) return [];
  return programFaults(completeScenario(scenario).text, { image: image.content, labels: labels?.content });
}

/** The program that a draft without faults is; undefined without an image. */
export function programOf({ image, labels, scenario }: OwnDraft, version: number): OwnProgram | undefined {
  if (image === undefined) return undefined;
  const { text, hasShots } = completeScenario(scenario);
  return {
    id: ownId(image.name),
    title: `own image: ${image.name}`,
    files: { image: image.content, labels: labels?.content, scenario: text },
    version,
    hasShots,
  };
}

/** What can be chosen on the bench. */
export type ChosenProgram = PlayableProgram | OwnProgram;

export const filesOf = async (program: ChosenProgram): Promise<ProgramFiles> =>
  'files' in program ? program.files : await fetchProgram(program);

/** The files of programs, each fetched once; asked for again where that failed. */
export class KnownFiles {
  readonly #known = new WeakMap<ChosenProgram, Promise<ProgramFiles>>();

  of(program: ChosenProgram): Promise<ProgramFiles> {
    const known = this.#known.get(program);
    if (known !== undefined) return known;
    const files = filesOf(program);
    this.#known.set(program, files);
    files.catch(() => this.#known.delete(program));
    return files;
  }
}

/** The light path of its scenario, and the aim of its first shot; where the scenario has no shots, that which stands. */
export function setUpOf(
  { files, hasShots }: OwnProgram,
  { aim }: Pick<BenchState, 'aim'>,
): Omit<BenchState, 'strategy'> {
  const { lightPath, shots } = parseScenario(files.scenario);
  return { lightPath, aim: hasShots ? shots[0]!.aim : aim };
}
