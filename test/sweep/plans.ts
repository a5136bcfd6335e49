import { readFileSync } from 'node:fs';
import { openPlan, type PlanFiles, type Sweep } from '../../src/sweep/plan.ts';

/** Files of the disk. */
export const DISK: PlanFiles = {
  text: (path) => readFileSync(path, 'utf8'),
  bytes: (path) => new Uint8Array(readFileSync(path)),
};

export const FIRST_LIGHT = 'homebrew-demo/first-light';

/** A plan about First Light on a tube, as a file beside its scenarios would say it. */
export const firstLightPlan = (changes: Readonly<Record<string, unknown>> = {}): Record<string, unknown> => ({
  sweep: 1,
  title: 'First Light',
  scenario: 'tube.json',
  n: 20,
  ...changes,
});

/** Open a plan as if it stood in `folder`. */
export function openDocument(document: unknown, folder = FIRST_LIGHT): Sweep {
  const path = `${folder}/plan-of-a-test.json`;
  return openPlan(path, { ...DISK, text: (asked) => (asked === path ? JSON.stringify(document) : DISK.text(asked)) });
}
