import { LatelightError } from '../../errors/latelight-error.ts';
import { AXES, cellDigits, isSwept } from '../../sweep/cells.ts';
import { openPlan, parsePlanJson, type Sweep } from '../../sweep/plan.ts';
import { type CollectedFiles, collectedFiles } from '../../sweep/plan-files.ts';
import { imageName, type LoadedProgram, labelsName } from './plan-choices.ts';
import { MOST_DELAYS } from './plan-form.ts';

/** The path of the plan among the files that a worker is given. */
export const PLAN_PATH = 'lag-map-plan.json';
/** A map of more cells cannot be drawn while somebody waits. Our choice; a command has no such bound. */
const MOST_CELLS = 10_000;
const MOST_ROWS = 60;

/** A plan that can be run on the page. */
export interface OpenedPlan {
  readonly sweep: Sweep;
  readonly files: CollectedFiles;
}

/**
 * Check a plan against the files of the page; `name` is what its errors call it. Errors: LAG_MAP_FILE where it names another
 * file, LAG_MAP_RESULTS, LAG_MAP_SIZE, and those of `openPlan`.
 */
export function openOnPage(text: string, programs: readonly LoadedProgram[], name = PLAN_PATH): OpenedPlan {
  checkKind(text, name);
  const files: CollectedFiles = { [PLAN_PATH]: text };
  for (const program of programs) {
    files[imageName(program)] = program.image;
    files[labelsName(program)] = program.labels;
  }
  const sweep = withFilesOfPage(files, () => openPlan(PLAN_PATH, collectedFiles(files)));
  checkSize(sweep);
  return { sweep, files };
}

/** What a sweep has saved as JSON is easily taken for its plan. */
function checkKind(text: string, path: string): void {
  const { cells, sweep } = { ...(parsePlanJson(text, path) as { readonly cells?: unknown; readonly sweep?: unknown }) };
  if (sweep === undefined && Array.isArray(cells)) throw new LatelightError('LAG_MAP_RESULTS', { path });
}

function withFilesOfPage(files: CollectedFiles, open: () => Sweep): Sweep {
  try {
    return open();
  } catch (error) {
    if (!(error instanceof LatelightError) || error.code !== 'FILE_UNREADABLE') throw error;
    const expected = Object.keys(files).filter((name) => name !== PLAN_PATH);
    throw new LatelightError('LAG_MAP_FILE', { path: error.details['path']!, expected: expected.join(', ') });
  }
}

function checkSize({ entries, cellCount }: Sweep): void {
  const delays = entries.delayMs.length;
  const rows = cellCount / delays / entries.aim.length;
  if (cellCount <= MOST_CELLS && delays <= MOST_DELAYS && rows <= MOST_ROWS) return;
  throw new LatelightError('LAG_MAP_SIZE', {
    found: `${rows} rows, ${delays} delays, ${cellCount} cells`,
    expected: `${MOST_ROWS} rows, ${MOST_DELAYS} delays, ${MOST_CELLS} cells`,
  });
}

/** The program that a cell shoots at, if it is one of the page. */
export function programOf(sweep: Sweep, cell: number, programs: readonly LoadedProgram[]): string | undefined {
  const { image } = sweep.strategies[cellDigits(sweep.entries, cell).strategy]!.scenario;
  return programs.find((program) => imageName(program) === image)?.id;
}

/** The axes of a plan in words, a line each. */
export function axesText({ entries }: Sweep): string[] {
  const titles = {
    strategy: 'strategies',
    hand: 'hands',
    delayMs: 'delays',
    panel: 'panels',
    sensor: 'sensors',
    room: 'rooms',
    aim: 'aims',
  } as const;
  return AXES.filter((axis) => isSwept(entries, axis)).map((axis) => {
    const names = entries[axis].map((entry) => (axis === 'delayMs' ? `${entry} ms` : String(entry)));
    const shown = names.length > 12 ? [...names.slice(0, 6), '...', ...names.slice(-2)] : names;
    return `${titles[axis]}: ${shown.join(axis === 'delayMs' ? ', ' : '; ')}`;
  });
}

/** What a saved plan needs to be run from a terminal. */
export function filesBeside(sweep: Sweep): string[] {
  const names = sweep.strategies.flatMap(({ scenario }) => [scenario.image, scenario.labels ?? []].flat());
  return [...new Set(names)];
}
