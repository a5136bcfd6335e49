import type { CellResult } from '../../sweep/cell-run.ts';
import {
  AXES,
  type Axis,
  type AxisEntries,
  type CellPlace,
  cellCount,
  cellDigits,
  cellPlace,
  isSwept,
} from '../../sweep/cells.ts';
import { OUTCOME_NAMES, OUTCOMES, type Outcome } from '../../sweep/outcome.ts';
import { type CellRates, type Rate, ratesOf } from '../../sweep/report/rates.ts';
import { wilsonInterval } from '../../sweep/statistics/wilson.ts';

/** Rows by columns of delays; a cell of the map is every aim at the same place of all other axes. */
export interface MapTable {
  /** By time; null = as the scenario says. */
  readonly delays: readonly (number | null)[];
  readonly rows: readonly MapRow[];
}

export interface MapRow {
  /** The first axis, and the others that the plan has. */
  readonly title: string;
  readonly subtitle: string;
  /** Cells of the plan, `[column][aim]`. */
  readonly cells: readonly (readonly number[])[];
}

const ACROSS: readonly Axis[] = ['delayMs', 'aim'];

export function mapTable(entries: AxisEntries): MapTable {
  const order = entries.delayMs.map((_, i) => i).sort((a, b) => (entries.delayMs[a] ?? 0) - (entries.delayMs[b] ?? 0));
  const rows = new Map<string, MapRow & { readonly cells: number[][] }>();
  for (let cell = 0; cell < cellCount(entries); cell++) {
    const digits = cellDigits(entries, cell);
    const key = AXES.filter((axis) => !ACROSS.includes(axis))
      .map((axis) => digits[axis])
      .join(' ');
    if (!rows.has(key)) rows.set(key, { ...rowTitle(entries, cellPlace(entries, cell)), cells: order.map(() => []) });
    rows.get(key)!.cells[order.indexOf(digits.delayMs)]!.push(cell);
  }
  return { delays: order.map((i) => entries.delayMs[i]!), rows: [...rows.values()] };
}

function rowTitle(entries: AxisEntries, place: CellPlace): { readonly title: string; readonly subtitle: string } {
  const names = AXES.filter((axis) => isSwept(entries, axis) && !ACROSS.includes(axis)).map((axis) =>
    String(place[axis]),
  );
  const [title = 'as in the scenario', ...others] = names;
  return { title, subtitle: others.join(' · ') };
}

/** What is known of a cell of the map. */
export interface MapCell {
  /** Cells of the plan that are known, of so many. */
  readonly known: readonly CellRates[];
  readonly of: number;
  /** Right shots of all aims together; undefined before a cell is complete. */
  readonly right: Rate | undefined;
  /** What is wrong with the scenario, if it could not be shot. */
  readonly refused: string | undefined;
}

/** Rates of every plan cell that is known. */
export type KnownRates = ReadonlyMap<number, CellRates>;

export const knownRates = (results: Iterable<CellResult>): Map<number, CellRates> =>
  new Map(Array.from(results, (result) => [result.cell, ratesOf(result)]));

export function mapCell(cells: readonly number[], rates: KnownRates): MapCell {
  const known = cells.flatMap((cell) => rates.get(cell) ?? []);
  const refused = known.find(({ result }) => result.refused !== null)?.result.refused ?? undefined;
  const isComplete = known.length === cells.length && refused === undefined;
  return { known, of: cells.length, right: isComplete ? pooled(known) : undefined, refused };
}

/**
 * All aims have as many shots, so that their sum is a sample in equal layers: its spread is at most that of a plain sample,
 * for which Wilson's interval is.
 */
function pooled(cells: readonly CellRates[]): Rate {
  const sum = (pick: (rate: Rate) => number): number =>
    cells.reduce((total, { rates }) => total + pick(rates.right), 0);
  const [events, n] = [sum((rate) => rate.events), sum((rate) => rate.n)];
  return { events, n, rate: n === 0 ? null : events / n, interval: wilsonInterval(events, n) };
}

/** The rate at which a row turns from mostly right to mostly wrong. Our choice. */
const TURN = 0.5;

/** Between a column and the next the rate crosses one half; sure where the two intervals do not even touch. */
export interface MapEdge {
  readonly column: number;
  readonly isSure: boolean;
}

export function edgesOf(cells: readonly MapCell[]): MapEdge[] {
  return cells.flatMap((cell, column) => {
    const [one, other] = [cell.right, cells[column + 1]?.right];
    if (one?.rate == null || other?.rate == null || one.rate > TURN === other.rate > TURN) return [];
    const isSure = one.interval.high < other.interval.low || other.interval.high < one.interval.low;
    return [{ column, isSure }];
  });
}

const MOST_STRETCHES = 3;

/** A row in a few words: where it is mostly right. */
export function rowText(cells: readonly MapCell[], delays: readonly (number | null)[]): string {
  const known = cells.filter(({ right }) => right?.rate != null);
  if (known.length === 0) return '';
  const isRight = cells.map(({ right }) => right?.rate != null && right.rate > TURN);
  const so = known.length < cells.length ? ' so far' : '';
  const count = isRight.filter(Boolean).length;
  if (count === 0) return `never mostly right${so}`;
  if (count === known.length) return known.length < cells.length ? 'mostly right so far' : 'always mostly right';
  const stretches: string[] = [];
  for (let from = 0; from < cells.length; from++) {
    if (!isRight[from]) continue;
    let to = from;
    while (isRight[to + 1]) to++;
    stretches.push(from === to ? `${delays[from]}` : `${delays[from]} to ${delays[to]}`);
    from = to;
  }
  const shown = stretches.length > MOST_STRETCHES ? [...stretches.slice(0, MOST_STRETCHES), '...'] : stretches;
  return `mostly right at ${shown.join(', ')} ms${so}`;
}

export const percent = (share: number, digits = 1): string => `${(share * 100).toFixed(digits)} %`;

export const delayText = (delayMs: number | null): string =>
  delayMs === null ? 'as in the scenario' : `${delayMs} ms late`;

/** Where a cell stands, in words. */
export const placeWords = ({ rows, delays }: MapTable, row: number, column: number): string =>
  [rows[row]!.title, rows[row]!.subtitle, delayText(delays[column]!)].filter((text) => text !== '').join(', ');

/** A rate with its interval, in words. */
export function rateWords({ events, n, rate, interval }: Rate): string {
  if (rate === null) return 'no shot that counts';
  return `right ${events} of ${n} shots, ${percent(rate)}, 95 % interval ${percent(interval.low)} to ${percent(interval.high)}`;
}

/** Outcomes of shots at targets, and of those at nothing; an edge is neither. */
const AT_TARGET: readonly Outcome[] = ['h', 'm', 'w', 'd', 'j'];
const AT_NOTHING: readonly Outcome[] = ['n', 'f', 'D', 'J'];

/** What the shots that count were aimed at, for a shot at nothing is right when the program says none. */
export function aimedWords({ known, right }: MapCell): string {
  if (right?.rate == null) return '';
  const sum = (outcomes: readonly Outcome[]): number =>
    known.reduce((total, { counts }) => total + outcomes.reduce((part, outcome) => part + counts[outcome], 0), 0);
  const parts = [
    [AT_TARGET, 'h', 'at targets', 'hit'],
    [AT_NOTHING, 'n', 'at nothing', 'rightly none'],
  ] as const;
  return parts
    .filter(([outcomes]) => sum(outcomes) > 0)
    .map(([outcomes, good, where, name]) => `${where} ${sum([good])} of ${sum(outcomes)} ${name}`)
    .join(', ');
}

/** What came of the shots of a cell that were not right. */
export function outcomeWords({ known }: MapCell): string {
  const counts = OUTCOMES.filter((outcome) => !'hn'.includes(outcome)).flatMap((outcome) => {
    const sum = known.reduce((total, { counts }) => total + counts[outcome], 0);
    return sum === 0 ? [] : [{ name: OUTCOME_NAMES[outcome], sum }];
  });
  const byName = new Map<string, number>();
  for (const { name, sum } of counts) byName.set(name, (byName.get(name) ?? 0) + sum);
  return [...byName].map(([name, sum]) => `${sum} × ${name}`).join(', ');
}

/** Everything that is told of a cell, as one text. */
export function cellText(table: MapTable, rates: KnownRates, row: number, column: number): string {
  const cell = mapCell(table.rows[row]!.cells[column]!, rates);
  const place = placeWords(table, row, column);
  if (cell.refused !== undefined) return `${place}: refused. ${cell.refused}`;
  if (cell.right === undefined)
    return `${place}: not known yet${cell.known.length === 0 ? '' : `, ${cell.known.length} of ${cell.of} aims done`}.`;
  const outcomes = outcomeWords(cell);
  const aimed = aimedWords(cell);
  return `${place}: ${rateWords(cell.right)}, sampled.${aimed === '' ? '' : ` Aimed ${aimed}.`}${outcomes === '' ? '' : ` Not right: ${outcomes}.`}`;
}

/** A cell by aim, where there is more than one. */
export function aimWords({ known }: MapCell): string[] {
  if (known.length < 2) return [];
  return known.map(
    ({ result, rates: { right } }) =>
      `${result.aim}: ${right.n === 0 ? 'no shot that counts' : `right ${right.events} of ${right.n}`}`,
  );
}

/** The shot of a cell that tells most: the first wrong one, or the very first. `shot` is counted from 0. */
export function tellingShot({
  known,
}: MapCell): { readonly result: CellResult; readonly shot: number; readonly why: string } | undefined {
  const shootable = known.filter(({ result }) => result.refused === null);
  const wrong = shootable.find(({ result }) => result.firstWrong !== null) ?? shootable[0];
  if (wrong === undefined) return undefined;
  const { result } = wrong;
  return { result, shot: (result.firstWrong?.shot ?? 1) - 1, why: result.firstWrong?.sentence ?? '' };
}
