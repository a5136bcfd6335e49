import type { CellResult } from '../../src/sweep/cell-run.ts';
import type { BenchSetUp, LoadedProgram } from '../../src/ui/lag-map/plan-choices.ts';
import { type FormValues, firstValues } from '../../src/ui/lag-map/plan-form.ts';
import { Fingerprint } from '../../src/units/hash.ts';

/** Programs that are compared: none of them needs to be calibrated, so that their shots begin early. */
export const COMPARED = ['same-frame-tested', 'fixed-delay'] as const;

/** What is typed for a small sweep: 2 strategies by 5 delays on one panel, at two aims. */
export const smallValues = (setUp: BenchSetUp, programs: readonly LoadedProgram[]): FormValues => ({
  ...firstValues(setUp, programs),
  strategies: [...COMPARED],
  panels: ['LCD'],
  aims: ['x 52, y 36', 'x 212, y 204'],
  fromMs: '0',
  toMs: '80',
  stepMs: '20',
  shots: '3',
});

/** One text for what came of every shot, to the tick. */
export const hashOfCells = (cells: readonly Pick<CellResult, 'cell' | 'outcomes' | 'fingerprint'>[]): string =>
  [...cells]
    .sort((a, b) => a.cell - b.cell)
    .reduce((sum, cell) => sum.addText(`${cell.cell} ${cell.outcomes} ${cell.fingerprint}`), new Fingerprint())
    .digest();
