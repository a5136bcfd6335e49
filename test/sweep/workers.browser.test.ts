import { expect, test } from 'vitest';
import imageUrl from '../../homebrew-demo/first-light/first-light.bin?url';
import labels from '../../homebrew-demo/first-light/first-light.lbl?raw';
import scenario from '../../homebrew-demo/first-light/tube.json?raw';
import { CellPool } from '../../src/sweep/cell-pool.ts';
import type { CellResult } from '../../src/sweep/cell-run.ts';
import { sortedJournal } from '../../src/sweep/journal.ts';
import { openPlan } from '../../src/sweep/plan.ts';
import { type CollectedFiles, collectedFiles } from '../../src/sweep/plan-files.ts';
import { Fingerprint } from '../../src/units/hash.ts';
import { PageRunner } from '../../src/workers/page-runner.ts';
import recorded from './hash.json';
import { UNEQUAL_PLAN } from './unequal-plan.ts';

const PATH = 'plan.json';

async function filesOfPlan(): Promise<CollectedFiles> {
  const image = new Uint8Array(await (await fetch(imageUrl)).arrayBuffer());
  return {
    [PATH]: JSON.stringify(UNEQUAL_PLAN),
    'tube.json': scenario,
    'first-light.bin': image,
    'first-light.lbl': labels,
  };
}

/** Run the plan in web workers; `lose` ends one of them the first time that it says how far it is. */
async function hashOf(jobs: number, lose = false): Promise<{ hash: string; started: number }> {
  const files = await filesOfPlan();
  const sweep = openPlan(PATH, collectedFiles(files));
  const results: CellResult[] = [];
  const runners: PageRunner[] = [];
  let isLost = !lose;
  await new CellPool({
    cells: Array.from({ length: sweep.cellCount }, (_, cell) => cell),
    jobs,
    startRunner: () => {
      const runner = new PageRunner(PATH, files);
      runners.push(runner);
      return runner;
    },
    onShots: () => {
      if (isLost) return;
      isLost = true;
      runners[0]!.lose('the test has ended it');
    },
    onResult: (result) => results.push(result),
  }).run();
  return { hash: new Fingerprint().addText(sortedJournal(sweep, results)).digest(), started: runners.length };
}

test.each([1, 2, 4])('%i web workers give the bytes on record, those of Node (Chromium)', async (jobs) => {
  expect(await hashOf(jobs)).toEqual({ hash: recorded.unequal, started: jobs });
});

test('a web worker that is lost in mid-cell is replaced, to the same bytes (Chromium)', async () => {
  expect(await hashOf(2, true)).toEqual({ hash: recorded.unequal, started: 3 });
});

test('a sweep in the page is stopped in mid-cell (Chromium)', async () => {
  const files = await filesOfPlan();
  // Half a million shots a cell: minutes, whatever else the machine does.
  const long = { ...UNEQUAL_PLAN, n: 500_000 };
  files[PATH] = JSON.stringify(long);
  let pool: CellPool | undefined;
  let stoppedAt = 0;
  let done = 0;
  pool = new CellPool({
    cells: [0, 1, 2, 3],
    jobs: 2,
    startRunner: () => new PageRunner(PATH, files),
    onShots: () => {
      if (stoppedAt > 0) return;
      stoppedAt = performance.now();
      pool?.stop();
    },
    onResult: () => {
      done++;
    },
  });
  await pool.run();
  const ms = performance.now() - stoppedAt;
  console.log(`a sweep in the page ended ${ms.toFixed(0)} ms after it was stopped`);
  expect(done).toBe(0);
  // The aim is 200 ms; other work may hold the page up, but never for as long as a cell takes.
  expect(ms).toBeLessThan(5000);
});
