import { isLitAt } from '../shot/light-bit.ts';
import type { ShotResult } from '../shot/shot.ts';

export const TIMELINE_LEGEND =
  'T trigger  W flash leaves the console  L light at the spot  C threshold crossed  D decision\n' +
  '. read, dark   # read, lit   + lit, nobody reads   (blank: not looking)';

/** One line of text from the trigger to a little after the last instant. Width in characters, brackets included. */
export function drawTimeline(result: ShotResult, width: number): string {
  const { trigger, flashOnWire, lightAtSpot, crossing, decision, lastRead, deadline } = result.ticks;
  const last = Math.max(crossing ?? 0, decision ?? 0, lastRead ?? 0, lightAtSpot ?? 0);
  const end = last === 0 ? deadline : Math.min(deadline, Math.ceil(last + (last - trigger) * 0.06) + 1);
  const columns = width - 2;
  const columnOf = (tick: number): number =>
    Math.min(columns - 1, Math.floor(((tick - trigger) / (end - trigger)) * columns));
  const reads = new Array<'' | '.' | '#'>(columns).fill('');
  for (const tick of result.reads) {
    if (tick > end) continue;
    const column = columnOf(tick);
    if (isLitAt(result.flips, tick)) reads[column] = '#';
    else reads[column] ||= '.';
  }
  const edgeOf = (column: number): number => trigger + ((end - trigger) * column) / columns;
  const cells = reads.map((read, column): string => {
    if (read !== '') return read;
    return isLitBetween(result.flips, edgeOf(column), edgeOf(column + 1)) ? '+' : ' ';
  });
  const marks: [string, number | null][] = [
    ['T', trigger],
    ['W', flashOnWire],
    ['L', lightAtSpot],
    ['C', crossing],
    ['D', decision],
  ];
  // From the last mark to the first; a mark whose cell is taken moves to the nearest free one, so that none is hidden.
  const isTaken = new Array<boolean>(columns).fill(false);
  for (const [mark, tick] of marks.reverse()) {
    if (tick === null || tick > end) continue;
    let column = columnOf(tick);
    while (column > 0 && isTaken[column]) column--;
    while (isTaken[column]) column++;
    cells[column] = mark;
    isTaken[column] = true;
  }
  return `|${cells.join('')}|`;
}

/** Whether the light bit is lit anywhere in [from, to). Flips alternate, the first one is to lit. */
function isLitBetween(flips: readonly number[], from: number, to: number): boolean {
  for (let i = 0; i < flips.length; i += 2) {
    const off = flips[i + 1] ?? Number.POSITIVE_INFINITY;
    if (flips[i]! < to && off > from) return true;
  }
  return false;
}
