import { parentPort, workerData } from 'node:worker_threads';
import { runCellTelling } from '../sweep/cell-run.ts';
import { openPlan } from '../sweep/plan.ts';
import { collectedFiles } from '../sweep/plan-files.ts';
import type { WorkerAnswer, WorkerData } from './sweep-runner.ts';

const { path, files } = workerData as WorkerData;
const sweep = openPlan(path, collectedFiles(files));
const answer = (message: WorkerAnswer): void => parentPort!.postMessage(message);

parentPort!.on('message', (cell: number) => {
  const tell = (shots: number): void => answer({ shots });
  answer({ result: runCellTelling(sweep, cell, () => performance.now(), tell) });
});
