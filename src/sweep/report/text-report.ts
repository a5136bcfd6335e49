import { AXES, type Axis, isSwept, placeText } from '../cells.ts';
import type { StrategyComparison } from '../comparison.ts';
import { MOST_EDGES_SHARE } from '../edges.ts';
import { failureText, type LimitedCell, type LimitResult } from '../limit-verdicts.ts';
import { OUTCOME_NAMES, OUTCOMES } from '../outcome.ts';
import { limitText } from '../pass-limit.ts';
import type { SweepSummary } from '../summary.ts';
import type { CellRates, Rate } from './rates.ts';

/** Cells and comparisons that are told in words; the others are in the files. */
const MOST_TOLD = 20;

/** A finished sweep as text for a terminal: what was shot, one line a cell, comparisons, limits with the cells that fail. */
export function sweepText(summary: SweepSummary): string {
  return [
    headText(summary),
    tableText(summary),
    ...(summary.comparisons.length === 0 ? [] : [comparisonsText(summary)]),
    ...(summary.refused.length === 0 ? [] : [refusedText(summary)]),
    ...summary.limits.map((limit) => limitReport(summary, limit)),
  ].join('\n\n');
}

function headText({ sweep, shots, edges, refusedCalibrations, cells }: SweepSummary): string {
  const { title, n, seed, random } = sweep.document;
  const { hitShare, nothingShare } = sweep.strategies[0]!.scenario.limits;
  const share = shots === 0 ? 0 : edges / shots;
  return [
    title,
    `  ${cells.length} cells of ${n} shots, seed ${seed}; drawn by lot for each shot: ${random === undefined ? 'everything that runs free' : random.join(', ') || 'nothing'}`,
    `  on a target from a share of ${hitShare} of the spot on, on nothing up to ${nothingShare}; else an edge: ${edges} of ${shots} shots (${percent(share)}), in no rate${share > MOST_EDGES_SHARE ? ', more than a plan should have' : ''}`,
    ...(refusedCalibrations === 0
      ? []
      : [`  calibration refused: ${refusedCalibrations} of ${shots} shots were not taken, in no rate but their own`]),
    '  rates in % with 95 % intervals (Wilson)',
  ].join('\n');
}

function tableText({ sweep, cells, refusedCalibrations }: SweepSummary): string {
  const axes = AXES.filter((axis) => isSwept(sweep.entries, axis));
  const isRefused = refusedCalibrations > 0;
  const head = [
    'cell',
    ...axes.map((axis) => (axis === 'delayMs' ? 'delay ms' : axis)),
    'right',
    '',
    'outcomes',
    'decision ms',
    ...(isRefused ? ['calibration refused', ''] : []),
  ];
  const rows = cells.map((cell) => [
    ...tableRow(cell, axes),
    ...(isRefused ? rateTexts(cell.rates['calibration refused']) : []),
  ]);
  return alignedText([head, ...rows], axes);
}

function tableRow({ result, rates, counts }: CellRates, axes: readonly Axis[]): string[] {
  const place = axes.map((axis) => String(result[axis]));
  if (result.refused !== null) return [String(result.cell), ...place, 'refused', '', '', ''];
  const outcomes = OUTCOMES.filter((outcome) => counts[outcome] > 0).map(
    (outcome) => `${counts[outcome]} ${OUTCOME_NAMES[outcome]}`,
  );
  if (result.saidTwice > 0) outcomes.push(`${result.saidTwice} said twice`);
  const decision = result.decision === null ? '-' : result.decision.meanMs.toFixed(1);
  return [String(result.cell), ...place, ...rateTexts(rates.right), outcomes.join(', '), decision];
}

function rateTexts({ rate, interval }: Rate): [string, string] {
  if (rate === null) return ['-', ''];
  return [(rate * 100).toFixed(2), `${(interval.low * 100).toFixed(2)} to ${(interval.high * 100).toFixed(2)}`];
}

/** Columns two spaces apart; numbers stand to the right. */
function alignedText(rows: readonly (readonly string[])[], axes: readonly Axis[]): string {
  const widths = rows[0]!.map((_, column) => Math.max(...rows.map((row) => row[column]!.length)));
  const isNumber = (column: number) =>
    column === 0 ||
    column === axes.indexOf('delayMs') + 1 ||
    column === axes.length + 1 ||
    column === axes.length + 4 ||
    column === axes.length + 5;
  return rows
    .map((row) =>
      row
        .map((text, column) => (isNumber(column) ? text.padStart(widths[column]!) : text.padEnd(widths[column]!)))
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}

function comparisonsText({ sweep, cells, comparisons }: SweepSummary): string {
  const line = ({
    first,
    second,
    cells: pair,
    difference,
    interval,
    n,
    onlyFirst,
    onlySecond,
    p,
    isShown,
  }: StrategyComparison): string => {
    const { result } = cells.find((candidate) => candidate.result.cell === pair[0])!;
    const at = placeText(sweep.entries, result, 'strategy');
    return `  ${first} against ${second}${at === '' ? '' : ` at ${at}`}: ${signed(difference)} points (${signed(interval.low)} to ${signed(interval.high)}), only one right ${onlyFirst} : ${onlySecond} of ${n}, p ${p.toPrecision(2)}${isShown ? ', shown' : ''}`;
  };
  const told = comparisons.slice(0, MOST_TOLD).map(line);
  return [
    'Strategies on the same draws, rate of right shots (exact test of McNemar; "shown" at 5 % over all comparisons, Holm)',
    ...told,
    ...rest(comparisons.length),
  ].join('\n');
}

function refusedText({ sweep, refused }: SweepSummary): string {
  const lines = refused
    .slice(0, MOST_TOLD)
    .map((result) => `  cell ${result.cell} (${placeText(sweep.entries, result)}): ${result.refused}`);
  return [`${refused.length} cells could not be shot`, ...lines, ...rest(refused.length)].join('\n');
}

function limitReport(summary: SweepSummary, result: LimitResult): string {
  const { limit, cells, leastN, empty, isPassed } = result;
  const failing = cells.filter(({ verdict }) => verdict !== 'shown');
  const { n } = summary.sweep.document;
  const head = `${isPassed ? 'PASSED' : 'FAILED'}  ${limitText(limit)}: shown in ${cells.length - failing.length} of ${cells.length} cells, n = ${n} (a cell without a failure shows it from n = ${leastN} on)`;
  const none = empty.length === 0 ? [] : [`  ${empty.length} cells have no shot that counts for it`];
  return [
    head,
    ...none,
    ...failing.slice(0, MOST_TOLD).flatMap((cell) => failingCell(summary, cell)),
    ...rest(failing.length),
  ].join('\n');
}

/** Why a cell fails: its rate, and the times of its first wrong shot. */
function failingCell({ sweep, cells }: SummaryCells, { cell, events, n, verdict }: LimitedCell): string[] {
  const { result } = cells.find((candidate) => candidate.result.cell === cell)!;
  const { firstWrong, lightAfterLook } = result;
  const lines = [`  cell ${cell} (${placeText(sweep.entries, result)}): ${events} of ${n}, ${failureText(verdict, n)}`];
  if (firstWrong !== null)
    lines.push(
      `    shot ${firstWrong.shot}, trigger at ${firstWrong.atMs.toFixed(3)} ms, ${firstWrong.outcome}: ${firstWrong.sentence}`,
    );
  if (lightAfterLook !== null)
    lines.push(
      `    light ${lightAfterLook.leastMs.toFixed(1)} to ${lightAfterLook.largestMs.toFixed(1)} ms after the last look, ${lightAfterLook.meanMs.toFixed(1)} on average (${lightAfterLook.count} shots)`,
    );
  return lines;
}

type SummaryCells = Pick<SweepSummary, 'sweep' | 'cells'>;

const rest = (count: number): string[] => (count > MOST_TOLD ? [`  and ${count - MOST_TOLD} more`] : []);
const percent = (share: number): string => `${(share * 100).toFixed(1)} %`;
const signed = (share: number): string => `${share > 0 ? '+' : ''}${(share * 100).toFixed(2)}`;
