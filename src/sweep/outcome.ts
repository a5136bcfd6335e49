import type { ShotResult } from '../shot/shot.ts';
import type { Truth } from '../shot/truth.ts';
import type { Measure } from './plan-format.ts';

/**
 * What came of a shot, one letter each:
 *
 *   at a target:  h hit, m miss, w wrong target, d no decision, j jammed
 *   at nothing:   n rightly none, f false hit, D no decision, J jammed
 *   on a border:  e edge, in no rate
 *   no shot:      r the program refused its calibration; in no rate but its own
 */
export type Outcome = 'h' | 'm' | 'w' | 'd' | 'j' | 'n' | 'f' | 'D' | 'J' | 'e' | 'r';
export const OUTCOMES: readonly Outcome[] = ['h', 'm', 'w', 'd', 'j', 'n', 'f', 'D', 'J', 'e', 'r'];

export const OUTCOME_NAMES: Readonly<Record<Outcome, string>> = {
  h: 'hit',
  m: 'miss',
  w: 'wrong target',
  d: 'no decision',
  j: 'jammed',
  n: 'rightly none',
  f: 'false hit',
  D: 'no decision',
  J: 'jammed',
  e: 'edge',
  r: 'calibration refused',
};

const AT_TARGET = 'hmwdj';
const AT_NOTHING = 'nfDJ';

/**
 * The shots that a measure counts, and those among them that are its events. Right and no decision: of all but edges and
 * refused calibrations; these: of everything that was planned.
 */
const COUNTED: Readonly<Record<Measure, { readonly of: string; readonly events: string }>> = {
  right: { of: AT_TARGET + AT_NOTHING, events: 'hn' },
  hit: { of: AT_TARGET, events: 'h' },
  miss: { of: AT_TARGET, events: 'm' },
  'wrong target': { of: AT_TARGET, events: 'w' },
  'no decision': { of: AT_TARGET + AT_NOTHING, events: 'dDjJ' },
  'false hit': { of: AT_NOTHING, events: 'f' },
  'calibration refused': { of: `${AT_TARGET}${AT_NOTHING}er`, events: 'r' },
};

export const isCounted = (outcome: string, measure: Measure): boolean => COUNTED[measure].of.includes(outcome);
export const isEvent = (outcome: string, measure: Measure): boolean => COUNTED[measure].events.includes(outcome);

export type OutcomeCounts = Readonly<Record<Outcome, number>>;

export interface Tally {
  readonly events: number;
  readonly n: number;
}

/** Events of a measure among the shots that it counts. */
export function tallyOf(counts: OutcomeCounts, measure: Measure): Tally {
  const sum = (letters: string) =>
    OUTCOMES.reduce((total, outcome) => (letters.includes(outcome) ? total + counts[outcome] : total), 0);
  return { events: sum(COUNTED[measure].events), n: sum(COUNTED[measure].of) };
}

export function countOutcomes(outcomes: string): OutcomeCounts {
  const counts = Object.fromEntries(OUTCOMES.map((outcome) => [outcome, 0])) as Record<Outcome, number>;
  for (const outcome of outcomes) counts[outcome as Outcome]++;
  return counts;
}

export function outcomeOf({ judgement, truth }: ShotResult): Outcome {
  if (judgement === 'no decision') return truth.kind === 'nothing' ? 'D' : 'd';
  return OUTCOMES.find((outcome) => OUTCOME_NAMES[outcome] === judgement)!;
}

/** The program jammed after the trigger: never right. */
export function outcomeOfJam(truth: Truth): Outcome {
  return truth.kind === 'target' ? 'j' : truth.kind === 'nothing' ? 'J' : 'e';
}

/** Runs of equal letters as the letter and their number: hhhm = h3m. */
export const packOutcomes = (outcomes: string): string =>
  outcomes.replace(/(.)\1+/g, (run, outcome: string) => outcome + run.length);

export const unpackOutcomes = (packed: string): string =>
  packed.replace(/([a-zA-Z])(\d+)/g, (_, outcome: string, count: string) => outcome.repeat(Number(count)));
