import { LatelightError } from '../../errors/latelight-error.ts';
import { PictureHistory } from '../../picture/picture.ts';
import { isRightJudgement } from '../judgement.ts';
import type { PreparedScenario } from '../prepared-scenario.ts';
import { capacityFor } from '../shot.ts';
import { changedScenario } from './apply-cure.ts';
import { INTERVENTIONS } from './index.ts';
import type { Finding, Intervention, IsRight } from './intervention.ts';
import { type Observation, observeShot } from './observation.ts';
import { firstWorld, observeAgain, runAgain } from './rerun.ts';
import { NO_RETOUCH } from './retouched-history.ts';
import { atOnce, type Stepwise } from './stepwise.ts';
import type { World } from './world.ts';

/** Why a shot was not right, shown by running it again. */
export interface Cause extends Finding {
  /** What was put right in the run that proved it, by name. */
  readonly interventions: readonly string[];
}

export type Explanation =
  | { readonly kind: 'right' }
  /** The first cause is the sentence. Of a pair each is a cause that needs the other. */
  | { readonly kind: 'proved'; readonly causes: readonly Cause[] }
  /** None that had evidence makes the shot right, alone or with another one. */
  | { readonly kind: 'not proved'; readonly tried: readonly string[] };

export interface ExplainOptions {
  /** In their order; all of them when not given. */
  readonly interventions?: readonly Intervention[];
  /**
   * Stop at the first cause, which is the sentence, and leave out what else would have made the shot right: several times
   * sooner. false when not given.
   */
  readonly stopsAtFirst?: boolean;
}

/** Run a shot and explain it. Errors: as `runShot`; PROGRAM_JAMMED only for a jam before the trigger. */
export function explainShot(prepared: PreparedScenario, shot: number, options: ExplainOptions = {}): Explanation {
  return explain(observeShot(prepared, shot), options);
}

/**
 * Explain a shot that was observed: every intervention with evidence alone, then pairs of them, then pairs whose second one
 * has its evidence only when the first is put right. Of an edge nothing is wrong that a program or the light could mend:
 * another aim alone is tried. Same input, same bytes.
 */
export function explain(first: Observation, options: ExplainOptions = {}): Explanation {
  return atOnce(explainStepwise(first, options));
}

/** The same, one run at a time. */
export function* explainStepwise(
  first: Observation,
  { interventions = INTERVENTIONS, stopsAtFirst = false }: ExplainOptions = {},
): Stepwise<Explanation> {
  const { judgement } = first.result;
  if (isRightJudgement(judgement)) return { kind: 'right' };
  const isEdge = judgement === 'edge';
  const candidates = interventions.filter(
    (intervention) => (!isEdge || intervention.movesAim === true) && intervention.evidence(first) !== 0,
  );
  const world = firstWorld(first);
  const history = new PictureHistory(capacityFor(first.prepared));
  const isRight: IsRight = (changed) => isRightIn(first, changed, history);
  const cures = yield* curesIn({ first, candidates, world, isRight }, stopsAtFirst);
  if (cures.length > 0) {
    const causes = cures.map((intervention) => ({
      ...intervention.describe(first, world, isRight),
      interventions: [intervention.name],
    }));
    return { kind: 'proved', causes };
  }
  if (isEdge) return { kind: 'not proved', tried: candidates.map(({ name }) => name) };
  const search = {
    first,
    interventions: interventions.filter(isWithoutSearch),
    candidates: candidates.filter(isWithoutSearch),
    world,
    isRight,
  };
  const pair = (yield* pairOf(search)) ?? (yield* pairBehind(search));
  return pair ?? { kind: 'not proved', tried: candidates.map(({ name }) => name) };
}

const isWithoutSearch = ({ search }: Intervention): boolean => search === undefined;

/** Those that are a cure, or the first of them; what has to be searched for only where nothing else is. */
function* curesIn(
  { first, candidates, world, isRight }: Omit<Search, 'interventions'>,
  stopsAtFirst: boolean,
): Stepwise<readonly Intervention[]> {
  const cures: Intervention[] = [];
  for (const candidate of candidates) {
    yield;
    const { search } = candidate;
    if (search !== undefined && cures.length > 0) continue;
    const isCure = search === undefined ? isRight(candidate.apply(world, first)) : yield* search(first, world, isRight);
    if (!isCure) continue;
    cures.push(candidate);
    if (stopsAtFirst) break;
  }
  return cures;
}

/** What a pair is looked for in. */
interface Search {
  readonly first: Observation;
  readonly interventions: readonly Intervention[];
  readonly candidates: readonly Intervention[];
  readonly world: World;
  readonly isRight: IsRight;
}

/** Two that have evidence in the first run. */
function* pairOf({ first, candidates, world, isRight }: Search): Stepwise<Explanation | undefined> {
  for (let i = 0; i < candidates.length; i++) {
    for (let k = i + 1; k < candidates.length; k++) {
      const [a, b] = [candidates[i]!, candidates[k]!];
      const [withA, withB] = [a.apply(world, first), b.apply(world, first)];
      yield;
      if (!isRight(b.apply(withA, first))) continue;
      return pairTogether({ world, isRight }, [a, first, withB], [b, first]);
    }
  }
  return undefined;
}

/**
 * One that has evidence in the first run, and one that has it as soon as the first is put right: a program that jammed
 * never came to the fault behind.
 */
function* pairBehind({ first, interventions, candidates, world, isRight }: Search): Stepwise<Explanation | undefined> {
  for (const a of candidates) {
    const withA = a.apply(world, first);
    yield;
    // Pictures that are not the program's show nothing of what it did; sprites that it put there do.
    if (isBlackened(withA)) continue;
    const second = observedAgain(first, withA);
    if (second === undefined) continue;
    for (const b of interventions) {
      if (b === a || candidates.includes(b) || b.evidence(second) === 0) continue;
      yield;
      if (!isRight(b.apply(withA, second))) continue;
      return pairTogether({ world, isRight }, [a, first, b.apply(world, second)], [b, second]);
    }
  }
  return undefined;
}

const isBlackened = ({ retouch: { blackUntil, blackFrom } }: World): boolean =>
  blackUntil !== NO_RETOUCH.blackUntil || blackFrom !== NO_RETOUCH.blackFrom;

/**
 * Both findings of a pair, with limits that hold together: that of the first is found with the second put right wholly, that
 * of the second with the first as far as it was said. Where that leaves the second none, the first is put right wholly.
 */
function pairTogether(
  { world, isRight }: Pick<Search, 'world' | 'isRight'>,
  [a, first, withB]: readonly [Intervention, Observation, World],
  [b, second]: readonly [Intervention, Observation],
): Explanation {
  const limited = a.describe(first, withB, isRight);
  const stated = withStated(world, limited) ?? a.apply(world, first);
  if (isRight(b.apply(stated, second))) return pair([a, limited], [b, b.describe(second, stated, isRight)]);
  const whole = a.describe(first, withB, () => false);
  const withWhole = withStated(world, whole) ?? a.apply(world, first);
  return pair([a, whole], [b, b.describe(second, withWhole, isRight)]);
}

/** The world with the amounts that a finding states; undefined where they are not settings of the light's way. */
function withStated(world: World, { cure: { changes } }: Finding): World | undefined {
  const ofLight = changes.filter((change) => change.in === 'scenario' && change.path.startsWith('lightPath.'));
  if (ofLight.length === 0) return undefined;
  return { ...world, scenario: changedScenario(world.scenario, ofLight), isLightNew: true };
}

type Found = readonly [intervention: Intervention, finding: Finding];

function pair(...found: readonly [Found, Found]): Explanation {
  const interventions = found.map(([{ name }]) => name);
  return { kind: 'proved', causes: found.map(([, finding]) => ({ ...finding, interventions })) };
}

/** A second run that cannot be judged shows nothing. */
function observedAgain(first: Observation, world: World): Observation | undefined {
  try {
    return observeAgain(first, world);
  } catch (error) {
    if (error instanceof LatelightError && error.code !== 'INTERNAL') return undefined;
    throw error;
  }
}

function isRightIn(first: Observation, world: World, history: PictureHistory): boolean {
  try {
    const { judgement, isAccident } = runAgain(first, world, history);
    // A processor that has stopped says nothing, whatever the light: that it goes on is all that can be asked.
    return isRightJudgement(judgement) && (!isAccident || first.record.jam !== undefined);
  } catch (error) {
    if (error instanceof LatelightError && error.code !== 'INTERNAL') return false;
    throw error;
  }
}
