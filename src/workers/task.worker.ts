import { expose } from 'comlink';
import type { WorkerTask } from './worker-tasks.ts';

type Service = Readonly<Record<string, (...parameters: never[]) => unknown>>;

/** By task, what is fetched for it. */
const SERVICES: Readonly<Record<WorkerTask, () => Promise<{ readonly service: object }>>> = {
  play: () => import('./play.exposed.ts'),
  sweep: () => import('./sweep.exposed.ts'),
  'flash check': () => import('./flash-check.exposed.ts'),
  'page record': () => import('./page-record.exposed.ts'),
};

const loaded = SERVICES[self.name as WorkerTask]();

// Listens at once, for what is said to a worker before it listens is lost; answers when its service has been fetched.
expose(
  new Proxy({} as Service, {
    get:
      (_, name) =>
      async (...parameters: never[]) =>
        ((await loaded).service as Service)[name as string]!(...parameters),
  }),
);
