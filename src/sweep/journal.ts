import { LatelightError } from '../errors/latelight-error.ts';
import { Fingerprint } from '../units/hash.ts';
import type { CellResult } from './cell-run.ts';
import type { Sweep } from './plan.ts';

/** Version of the journal format that this code writes and reads. */
const JOURNAL_VERSION = 1;

/**
 * A journal is one line of JSON for the sweep and one for each complete cell, in the order in which they finished; each line
 * ends with a checksum of its own. Lines hold nothing but what follows from the plan: sorted by cell, the bytes are the
 * same however many workers there were, and whatever was stopped and resumed.
 */
export function journalHead({ document, fingerprint, cellCount }: Sweep): string {
  const { title, n, seed } = document;
  return sealed({ journal: JOURNAL_VERSION, title, plan: fingerprint, cells: cellCount, n, seed });
}

export const journalLine = (result: CellResult): string => sealed(result);

/** All of a finished sweep, by cell. */
export const sortedJournal = (sweep: Sweep, results: readonly CellResult[]): string =>
  [journalHead(sweep), ...[...results].sort((a, b) => a.cell - b.cell).map(journalLine)]
    .map((line) => `${line}\n`)
    .join('');

/**
 * The complete cells of a journal; of a cell that stands there twice the first. A last line that was cut off is left out.
 * Errors: JOURNAL_OTHER_PLAN, JOURNAL_BROKEN. `path` is for their texts.
 */
export function readJournal(text: string, sweep: Sweep, path: string): CellResult[] {
  const [head, ...lines] = wholeLines(text);
  if (head === undefined) return [];
  checkHead(head, sweep, path);
  const results = new Map<number, CellResult>();
  for (const [i, line] of lines.entries()) {
    const result = unsealed(line) as CellResult | undefined;
    if (result !== undefined && isCell(result, sweep)) {
      if (!results.has(result.cell)) results.set(result.cell, result);
      continue;
    }
    // The machine may have stopped while the last line was on its way to the disk.
    if (i === lines.length - 1) break;
    throw new LatelightError('JOURNAL_BROKEN', { path, line: i + 2, found: shown(line) });
  }
  return [...results.values()];
}

const wholeLines = (text: string): string[] => text.split('\n').slice(0, -1);

function checkHead(line: string, { fingerprint }: Sweep, path: string): void {
  const head = unsealed(line) as { readonly journal?: unknown; readonly plan?: unknown } | undefined;
  if (head?.journal !== JOURNAL_VERSION)
    throw new LatelightError('JOURNAL_BROKEN', { path, line: 1, found: shown(line) });
  if (head.plan !== fingerprint)
    throw new LatelightError('JOURNAL_OTHER_PLAN', { path, found: String(head.plan), expected: fingerprint });
}

const isCell = ({ cell }: Partial<CellResult>, { cellCount }: Sweep): boolean =>
  typeof cell === 'number' && Number.isInteger(cell) && cell >= 0 && cell < cellCount;

const shown = (line: string): string => JSON.stringify(line.length <= 40 ? line : `${line.slice(0, 40)}...`);

function sealed(data: object): string {
  const body = JSON.stringify(data);
  return `${body.slice(0, -1)},"sum":"${checksumOf(body)}"}`;
}

/** What `sealed` has sealed; undefined if the checksum does not fit. */
function unsealed(line: string): unknown {
  const match = /^(.*),"sum":"([0-9a-f]{16})"\}$/.exec(line);
  if (match === null) return undefined;
  const body = `${match[1]}}`;
  return checksumOf(body) === match[2] ? JSON.parse(body) : undefined;
}

const checksumOf = (body: string): string => new Fingerprint().addText(body).digest();
