import { beforeAll, describe, expect, test } from 'vitest';
import { runShot } from '../../src/shot/shot.ts';
import { runBuilt } from '../run-built.ts';
import { CalibratedVisit, sevenAims } from './calibrated-visit.ts';
import { type Tally, tableOf } from './delay-trial.ts';
import { LCDS, PATHS, TUBE } from './light-paths.ts';
import { builtFiles, LAMPS, prepareStreet } from './practice-street.ts';

const files = builtFiles('calibrated');

describe('calibrated, a still hand: every judged shot is right', () => {
  let tallies: readonly Tally[];
  beforeAll(() => {
    // The tube at 401 delays, each LCD at 15 others of all 601; `npm run bench:theorem` takes all of them everywhere.
    const lcds = LCDS.map((_, i) => `${i + 1}:40`);
    tallies = runBuilt('test/theorem/print-theorem.ts', '0:grid', ...lcds) as Tally[];
    console.log(tableOf(tallies));
  }, 900_000);

  test.each(PATHS.map(({ name }, i) => [name, i] as const))('%s', (_, i) => {
    const { delays, refused, right, wrong, edge, largestNothingShare, failures } = tallies[i]!;
    expect(failures).toEqual([]);
    expect([refused, wrong, edge]).toEqual([0, 0, 0]);
    expect(right).toBe(7 * delays);
    expect(delays).toBeGreaterThanOrEqual(i === 0 ? 401 : 15);
    expect(largestNothingShare).toBeLessThan(0.001);
  });
});

// A slow LCD without a frame buffer and a quick scan behind one. All paths on both timings: `npm run bench:theorem`.
describe('calibrated on the 50 Hz console and the clone', () => {
  const paths = [0, 2, 5] as const;
  const timings = ['50hz', '50hz-clone'] as const;
  let tallies: readonly Tally[];
  beforeAll(() => {
    const words = timings.flatMap((timing) => [timing, ...paths.map((path) => `${path}:20`)]);
    tallies = runBuilt('test/theorem/print-theorem.ts', ...words) as Tally[];
    console.log(tableOf(tallies));
  }, 900_000);

  test.each(timings)('%s: every judged shot at some 30 delays is right, on a tube and two LCDs', (timing) => {
    const own = tallies.filter(({ path }) => path.endsWith(`, ${timing}`));
    expect(own.map(({ path }) => path)).toEqual(paths.map((path) => `${PATHS[path]!.name}, ${timing}`));
    for (const { delays, refused, right, wrong, edge, largestNothingShare, failures } of own) {
      expect(failures).toEqual([]);
      expect([refused, wrong, edge]).toEqual([0, 0, 0]);
      expect(right).toBe(7 * delays);
      expect(delays).toBeGreaterThanOrEqual(30);
      expect(largestNothingShare).toBeLessThan(0.001);
    }
  });
});

test.each([TUBE, LCDS[3]!])('$name: seven shots from the moment are those from power-on', (path) => {
  const visit = new CalibratedVisit({ files, path, delayMs: 77.3, markPhaseMs: 5 });
  for (const plan of sevenAims(visit, (i) => (i + 0.4) / 7)) {
    const { truth, said, judgement, ticks, reads } = visit.shoot(plan);
    expect(runShot(visit.prepare(plan), 0)).toMatchObject({ truth, said, judgement, ticks, reads, saidTwice: false });
  }
});

test('an LCD that scans faster than the rows arrive is refused unless a frame buffer lies before it', () => {
  const buffered = LCDS.filter(({ isBuffered }) => isBuffered);
  expect(buffered.length).toBe(6);
  for (const path of buffered) {
    const shoot = (isBuffered: boolean) => () =>
      runShot(
        prepareStreet({ files, path: { ...path, isBuffered }, delayMs: 1, shots: [{ aim: LAMPS[0]!, atMs: 600 }] }),
        0,
        {
          draws: 'aim',
        },
      );
    expect(shoot(false)).toThrow(expect.objectContaining({ code: 'LIGHT_PATH' }));
    expect(shoot(true)).not.toThrow();
  }
});
