import { placeText } from '../cells.ts';
import { failureText } from '../limit-verdicts.ts';
import { limitText } from '../pass-limit.ts';
import type { SweepSummary } from '../summary.ts';

interface Case {
  readonly name: string;
  readonly failure: string | null;
  readonly skipped?: string;
}

/**
 * JUnit XML, as test servers read it: a suite for each limit with a case for each cell, one for cells that were refused, and,
 * where there are any, one for calibrations that the program refused: these are skipped tests.
 */
export function sweepJunit(summary: SweepSummary): string {
  const { sweep, cells, limits, refused } = summary;
  const nameOf = (cell: number): string => {
    const { result } = cells.find((candidate) => candidate.result.cell === cell)!;
    return `cell ${cell}: ${placeText(sweep.entries, result)}`;
  };
  const suites = limits.map((limit) => {
    const cases = limit.cells.map(({ cell, events, n, verdict }): Case => {
      const failure = verdict === 'shown' ? null : `${events} of ${n}, ${failureText(verdict, n)}`;
      return { name: nameOf(cell), failure };
    });
    if (cases.length === 0) cases.push({ name: 'cells', failure: 'no cell has a shot that counts for this limit' });
    return suite(limitText(limit.limit), cases);
  });
  const isRefused = new Set(refused.map(({ cell }) => cell));
  suites.push(
    suite(
      'cells that could be shot',
      cells.map(({ result }) => ({
        name: nameOf(result.cell),
        failure: isRefused.has(result.cell) ? result.refused : null,
      })),
    ),
  );
  if (summary.refusedCalibrations > 0) {
    const cases = cells.map(({ result, counts: { r } }) => ({
      name: nameOf(result.cell),
      failure: null,
      ...(r === 0 ? {} : { skipped: `${r} of ${result.n} calibrations refused: these shots were not taken` }),
    }));
    suites.push(suite('calibrations', cases));
  }
  return `<?xml version="1.0" encoding="UTF-8"?>\n<testsuites name="${escaped(sweep.document.title)}">\n${suites.join('')}</testsuites>\n`;
}

function suite(name: string, cases: readonly Case[]): string {
  const failures = cases.filter(({ failure }) => failure !== null).length;
  const skipped = cases.filter((one) => one.skipped !== undefined).length;
  const lines = cases.map((one) => {
    const head = `    <testcase classname="${escaped(name)}" name="${escaped(one.name)}"`;
    if (one.failure !== null) return `${head}><failure message="${escaped(one.failure)}"/></testcase>\n`;
    if (one.skipped !== undefined) return `${head}><skipped message="${escaped(one.skipped)}"/></testcase>\n`;
    return `${head}/>\n`;
  });
  const skips = skipped === 0 ? '' : ` skipped="${skipped}"`;
  return `  <testsuite name="${escaped(name)}" tests="${cases.length}" failures="${failures}" errors="0"${skips}>\n${lines.join('')}  </testsuite>\n`;
}

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&apos;',
};

/** Text for an attribute; characters that XML cannot hold become spaces. */
const escaped = (text: string): string =>
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what must go
  text.replace(/[\u0000-\u001f\ufffe\uffff]/g, ' ').replace(/[&<>"']/g, (sign) => ENTITIES[sign]!);
