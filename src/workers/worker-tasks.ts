/** What a worker of this page can be started for. */
export type WorkerTask = 'play' | 'sweep' | 'flash check' | 'page record';

/** A worker for this task. All are one program, so that what they share is fetched once. */
export const startWorker = (task: WorkerTask): Worker =>
  new Worker(new URL('./task.worker.ts', import.meta.url), { type: 'module', name: task });
