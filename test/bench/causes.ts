import { type Explanation, explain } from '../../src/shot/cause/explain.ts';
import { type Observation, observeShot } from '../../src/shot/cause/observation.ts';
import { PLANTS } from '../cause/plants/index.ts';
import { cured } from '../cause/plants/plant.ts';
import { planted, plantedPairs, verdictOf } from '../cause/plants/planted.ts';
import { figureLine, median } from './figure.ts';

/** Plants of a kind, double faults, and the least share of them that is to be named right. */
const PLANTS_EACH = Number(process.argv[2] ?? 200);
const PAIRS = Number(process.argv[3] ?? 500);
/** Plants of one kind only. */
const ONLY = process.argv[4] ?? '';
const GOAL = 0.95;
const SEED = 1;

const cpuMs = (): number => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
};
/** Processor time to the sentence, and to everything that would have made the shot right. */
const times: number[] = [];
const allTimes: number[] = [];

function timed(first: Observation): Explanation {
  const start = cpuMs();
  explain(first, { stopsAtFirst: true });
  times.push(cpuMs() - start);
  const again = cpuMs();
  const explanation = explain(first);
  allTimes.push(cpuMs() - again);
  return explanation;
}

const nameOf = (explanation: Explanation): string =>
  explanation.kind === 'proved' ? explanation.causes[0]!.id : explanation.kind;

interface Row {
  readonly kind: string;
  readonly count: number;
  /** How often each kind was the sentence. */
  readonly named: Readonly<Record<string, number>>;
  readonly cured: number;
  readonly ms: number;
  readonly allMs: number;
}

function rowOf(plant: (typeof PLANTS)[number]): Row {
  const named: Record<string, number> = {};
  let [count, curedCount] = [0, 0];
  const from = times.length;
  for (const { prepared, setting } of planted(plant, SEED)) {
    if (count === PLANTS_EACH) break;
    count++;
    const explanation = timed(observeShot(prepared, 0));
    const name = nameOf(explanation);
    named[name] = (named[name] ?? 0) + 1;
    if (explanation.kind === 'proved' && name === plant.id && isCured(plant, setting, explanation)) curedCount++;
  }
  const meanOf = (spent: readonly number[]): number => spent.reduce((sum, ms) => sum + ms, 0) / spent.length;
  const [ms, allMs] = [meanOf(times.slice(from)), meanOf(allTimes.slice(from))];
  return { kind: plant.id, count, named, cured: curedCount, ms, allMs };
}

const isCured = (
  plant: (typeof PLANTS)[number],
  setting: Parameters<typeof cured>[1],
  explanation: Extract<Explanation, { kind: 'proved' }>,
): boolean => verdictOf(cured(plant, setting, explanation.causes[0]!)).is === 'right';

function pairsText(): { text: string; share: number } {
  const counts = { both: 0, one: 0, other: 0, 'not proved': 0 };
  let count = 0;
  for (const { plants, prepared } of plantedPairs(PLANTS, SEED + 1)) {
    if (count === PAIRS) break;
    count++;
    const explanation = timed(observeShot(prepared, 0));
    const ids = explanation.kind === 'proved' ? explanation.causes.map(({ id }) => id) : [];
    const found = plants.filter(({ id }) => ids.includes(id)).length;
    if (found === 0) console.error(`${plants.map(({ id }) => id).join(' + ')}: ${ids.join(', ') || explanation.kind}`);
    if (found === 2) counts.both++;
    else if (found === 1) counts.one++;
    else if (explanation.kind === 'proved') counts.other++;
    else counts['not proved']++;
  }
  const text = Object.entries(counts)
    .map(([name, number]) => `${name} ${number}`)
    .join('  ');
  return { text: `double faults ${count}: ${text}`, share: count === 0 ? 1 : (counts.both + counts.one) / count };
}

/** Rows: what was planted. Columns: the kind of the first cause, by number; `cured`: its cure makes the shot right. */
function tableText(rows: readonly Row[]): string {
  const columns = [...PLANTS.map(({ id }) => id as string), 'not proved'];
  const cell = (text: string | number): string => String(text).padStart(5);
  const lines = rows.map(
    ({ kind, named, cured: good, ms, allMs }, i) =>
      `${String(i + 1).padStart(2)} ${kind.padEnd(16)}${columns.map((name) => cell(named[name] ?? '.')).join('')}${cell(good)}${ms.toFixed(1).padStart(7)}${allMs.toFixed(1).padStart(7)}`,
  );
  const head = `${' '.repeat(19)}${columns.map((name, i) => cell(name === 'not proved' ? '?' : i + 1)).join('')}cured${'ms'.padStart(7)}${'all'.padStart(7)}`;
  return [head, ...lines].join('\n');
}

const rows: Row[] = [];
for (const plant of PLANTS_EACH > 0 ? PLANTS.filter(({ id }) => ONLY === '' || id === ONLY) : []) {
  const row = rowOf(plant);
  rows.push(row);
  console.error(
    `${row.kind} ${row.count} ${JSON.stringify(row.named)} cured ${row.cured}, ${row.ms.toFixed(1)} ms, all ${row.allMs.toFixed(1)} ms`,
  );
}
console.log(tableText(rows));
const pairs = pairsText();
console.log(pairs.text);
const least = Math.min(1, ...rows.map(({ kind, named, count }) => (named[kind] ?? 0) / count));
const figures = [
  {
    name: 'causes_least_row',
    value: least * PLANTS_EACH,
    unit: `of ${PLANTS_EACH}`,
    bound: 'min',
    goal: GOAL * PLANTS_EACH,
  },
  { name: 'causes_double', value: pairs.share, unit: '', bound: 'min', goal: GOAL },
  { name: 'cause_ms', value: median(times), unit: 'ms', bound: 'max', goal: 50 },
  {
    name: 'cause_slowest_kind_ms',
    value: Math.max(0, ...rows.map(({ ms }) => ms)),
    unit: 'ms',
    bound: 'max',
    goal: 50,
  },
  { name: 'cause_all_ms', value: median(allTimes), unit: 'ms', bound: 'max', goal: 50 },
] as const;
for (const figure of figures) console.log(figureLine(figure));
if (figures.some(({ value, bound, goal }) => (bound === 'min' ? value < goal : value > goal))) process.exitCode = 1;
