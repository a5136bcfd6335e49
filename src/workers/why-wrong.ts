import { LatelightError } from '../errors/latelight-error.ts';
import { type ExplainOptions, type Explanation, explainStepwise } from '../shot/cause/explain.ts';
import { type LiveShot, observeLiveShotStepwise } from '../shot/cause/live-observation.ts';
import { type Observation, observeShot } from '../shot/cause/observation.ts';
import type { Stepwise } from '../shot/cause/stepwise.ts';
import { isRightJudgement } from '../shot/judgement.ts';
import type { NotAgain, PullOutcome } from '../shot/live-session.ts';
import type { PreparedScenario } from '../shot/prepared-scenario.ts';
import type { WhyWrong } from './play.api.ts';

/** Why a shot was wrong, worked out run by run; null where nothing was judged. */
export type Inquiry = Stepwise<WhyWrong | null>;

/** The cause that comes first is what is told; what else would have helped takes several times as long. */
const SENTENCE: ExplainOptions = { stopsAtFirst: true };

const EARLY =
  'No cause is given: the trigger was pulled before the program had answered the shot before, and the answer may have been meant for that one. Wait for the answer.';
const NOT_AGAIN: Readonly<Record<NotAgain, string>> = {
  'too soon':
    "No cause is given: a shot is run again from a second before it, and the light's way has changed since. Shoot again.",
  'pulled again':
    'No cause is given: the trigger was pulled again before the program had answered this shot. Wait for the answer.',
};

/** A shot that somebody made while playing. */
export function* whyLive(outcome: PullOutcome): Inquiry {
  if (outcome.kind === 'not judged') return null;
  const { live, isEarly, result } = outcome;
  if (isRightJudgement(result.judgement)) return { kind: 'right' };
  if (typeof live === 'string') return notExplained(NOT_AGAIN[live]);
  const observation = yield* observed(live);
  if ('problem' in observation) return notExplained(isEarly ? EARLY : observation.problem);
  const why = whyWrong(yield* explainStepwise(observation, SENTENCE));
  return isEarly && why.kind === 'not proved' ? notExplained(EARLY) : why;
}

const notExplained = (text: string): WhyWrong => ({ kind: 'not explained', text });

/** A live shot is judged soon after its answer; up to its deadline something may be found that forbids to judge it. */
function* observed(live: LiveShot): Stepwise<Observation | { readonly problem: string }> {
  try {
    return yield* observeLiveShotStepwise(live);
  } catch (error) {
    if (!(error instanceof LatelightError) || error.code === 'INTERNAL') throw error;
    return { problem: `No cause is given: run again up to its deadline the shot cannot be judged: ${error.message}.` };
  }
}

/** A rehearsed shot, which is one of a scenario. */
export function* whyRehearsed(outcome: PullOutcome, played: PreparedScenario): Inquiry {
  if (outcome.kind === 'not judged') return null;
  return whyWrong(yield* explainStepwise(observeShot(played, 0), SENTENCE));
}

function whyWrong(explanation: Explanation): WhyWrong {
  switch (explanation.kind) {
    case 'proved':
      return {
        kind: 'proved',
        isPair: (explanation.causes[0]?.interventions.length ?? 0) > 1,
        causes: explanation.causes.map(({ sentence, cure }) => ({ sentence, cure: cure.text, changes: cure.changes })),
      };
    case 'not proved':
      return { kind: 'not proved', tried: explanation.tried };
    default:
      return { kind: 'right' };
  }
}
