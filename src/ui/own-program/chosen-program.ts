import type { Remote } from 'comlink';
import type { PlayRequest, PlayService } from '../../workers/play.api.ts';
import type { Refusal } from '../../workers/refusal.ts';
import { PROGRAMS } from '../programs.ts';
import type { ChosenProgram, OwnProgram } from './own-program.ts';
import { withInstant } from './scenario-text.ts';

/** What can be chosen: Lamplighter with each of its strategies, and an own program if there is one. */
export const programChoices = (own: OwnProgram | undefined): readonly ChosenProgram[] =>
  own === undefined ? PROGRAMS : [...PROGRAMS, own];

/** The program of this id; Lamplighter where there is none. */
export const programNamed = (id: string, own: OwnProgram | undefined): ChosenProgram =>
  programChoices(own).find((program) => program.id === id) ?? PROGRAMS[0]!;

/** Instants that were found, so that nobody waits twice. */
const found = new WeakMap<OwnProgram, number>();

/** The request with an instant for its shot: that of the scenario, or else one at which a target is live. */
export async function withShot(
  request: PlayRequest,
  program: ChosenProgram,
  service: Remote<PlayService>,
): Promise<PlayRequest | Refusal> {
  if (!('files' in program) || program.hasShots) return request;
  let atMs = found.get(program);
  if (atMs === undefined) {
    const answer = await service.firstLive(request);
    if ('refused' in answer) return answer;
    atMs = answer.atMs;
    found.set(program, atMs);
  }
  return { ...request, scenario: withInstant(request.scenario, atMs) };
}
