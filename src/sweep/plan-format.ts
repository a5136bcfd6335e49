import * as v from 'valibot';
import { faultOf } from '../shot/scenario.ts';

/** Version of the plan format that this code reads. */
export const PLAN_VERSION = 1;

/** What a shot may draw by lot; each is drawn afresh for every shot, from seed, name and number of the shot. */
export const RANDOM_AXES = ['triggerPhase', 'backlightPhase', 'lampPhase'] as const;
export type RandomAxis = (typeof RANDOM_AXES)[number];

/** What a rate or a limit counts. */
export const MEASURES = [
  'right',
  'hit',
  'miss',
  'wrong target',
  'no decision',
  'false hit',
  'calibration refused',
] as const;
export type Measure = (typeof MEASURES)[number];

const number = (min: number, max: number) =>
  v.pipe(v.number(), v.minValue(min, `at least ${min}`), v.maxValue(max, `at most ${max}`));
const wholeNumber = (min: number, max: number) => v.pipe(number(min, max), v.integer('a whole number'));
const text = (longest: number) =>
  v.pipe(v.string(), v.minLength(1, 'a text that is not empty'), v.maxLength(longest, `at most ${longest} characters`));
const record = v.looseObject({});
/**
 * Names that JSON cannot keep in the order of the plan (objects take whole numbers first), or that stand for something else in
 * an object; such an entry would move or be lost.
 */
const UNFIT_NAME = /^(0|[1-9]\d*|__proto__|constructor|prototype)$/;
const isFitlyNamed = (data: unknown): boolean =>
  typeof data !== 'object' || data === null || !Object.keys(data).some((name) => UNFIT_NAME.test(name));

const named = <Value extends v.GenericSchema>(value: Value) =>
  v.pipe(
    v.unknown(),
    v.check((data) => !Array.isArray(data), 'an object whose entries have names, not a list'),
    v.check(
      isFitlyNamed,
      ({ input }) =>
        `names that are not whole numbers and not words of JavaScript's own: not ${Object.keys(input as object)
          .filter((name) => UNFIT_NAME.test(name))
          .map((name) => `'${name}'`)
          .join(', ')}`,
    ),
    v.record(text(60), value),
    v.check((entries) => Object.keys(entries).length > 0, 'at least one entry'),
    v.check((entries) => Object.keys(entries).length <= 1000, 'at most 1000 entries'),
  );
/** Entries of a list, each of them once. */
const once = <Value extends v.GenericSchema<unknown, string | number>>(value: Value) =>
  v.pipe(
    v.array(value),
    v.check((list) => new Set(list).size === list.length, 'every entry once'),
  );
/** The names of an axis that a limit is for. */
const some = <Value extends v.GenericSchema<unknown, string | number>>(value: Value) =>
  v.pipe(once(value), v.minLength(1, 'at least one entry; leave the list out for all'));
const delayMs = number(0, 10_000);

const aim = v.union([
  v.strictObject({ x: number(-256, 512), y: number(-240, 480) }),
  v.strictObject({
    target: wholeNumber(0, 15),
    dx: v.exactOptional(number(-256, 256), 0),
    dy: v.exactOptional(number(-240, 240), 0),
  }),
]);

/** Cells that a limit is for; a list that is not given means all. */
const where = v.strictObject({
  strategy: v.exactOptional(some(text(60))),
  hand: v.exactOptional(some(text(60))),
  delayMs: v.exactOptional(some(delayMs)),
  panel: v.exactOptional(some(text(60))),
  sensor: v.exactOptional(some(text(60))),
  room: v.exactOptional(some(text(60))),
  aim: v.exactOptional(some(text(60))),
});

const share = v.pipe(v.number(), v.gtValue(0, 'above 0'), v.ltValue(1, 'below 1'));

const passLimit = v.pipe(
  v.strictObject({
    measure: v.picklist(MEASURES),
    atMost: v.exactOptional(share),
    atLeast: v.exactOptional(share),
    where: v.exactOptional(where, {}),
    overCells: v.exactOptional(v.picklist(['holm', 'each']), 'holm'),
  }),
  v.check((limit) => (limit.atMost === undefined) !== (limit.atLeast === undefined), 'either atMost or atLeast'),
);

export const planSchema = v.strictObject({
  sweep: v.literal(PLAN_VERSION),
  title: text(200),
  scenario: v.union([text(1000), record]),
  strategies: v.exactOptional(named(record)),
  hands: v.exactOptional(named(v.nullable(record))),
  delays: v.exactOptional(
    v.union([
      v.pipe(once(delayMs), v.minLength(1, 'at least one delay'), v.maxLength(10_000, 'at most 10000 delays')),
      v.pipe(
        v.strictObject({ fromMs: delayMs, toMs: delayMs, stepMs: number(0.001, 10_000) }),
        v.check(({ fromMs, toMs }) => toMs >= fromMs, 'toMs that is not smaller than fromMs'),
        v.check(({ fromMs, toMs, stepMs }) => (toMs - fromMs) / stepMs < 10_000, 'at most 10000 delays'),
      ),
    ]),
  ),
  delayStage: v.exactOptional(wholeNumber(0, 15)),
  panels: v.exactOptional(named(record)),
  sensors: v.exactOptional(named(record)),
  rooms: v.exactOptional(named(record)),
  aims: v.exactOptional(named(aim)),
  random: v.exactOptional(v.array(v.picklist(RANDOM_AXES))),
  n: wholeNumber(1, 1_000_000),
  seed: v.exactOptional(wholeNumber(0, 0xffff_ffff), 1),
  compare: v.exactOptional(
    v.array(
      v.pipe(
        v.tuple([text(60), text(60)]),
        v.check(([a, b]) => a !== b, 'two strategies that differ'),
      ),
    ),
  ),
  passLimits: v.exactOptional(v.pipe(v.array(passLimit), v.maxLength(100, 'at most 100 limits')), []),
  allowManyEdges: v.exactOptional(v.boolean(), false),
});

export type PlanDocument = v.InferOutput<typeof planSchema>;
export type PassLimit = PlanDocument['passLimits'][number];
export type PlannedAim = NonNullable<PlanDocument['aims']>[string];

/** Check a plan that is already plain data; what is wrong is added to `faults`. */
export function checkPlanDocument(data: unknown, faults: string[]): PlanDocument | undefined {
  const result = v.safeParse(planSchema, data);
  if (result.success) return result.output;
  faults.push(...result.issues.map(faultOf));
  return undefined;
}
