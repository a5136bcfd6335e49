import fc from 'fast-check';
import { expect, test } from 'vitest';
import { ReadLog } from './read-log.ts';

const run = fc.record({
  gap: fc.integer({ min: 1, max: 40 }),
  step: fc.integer({ min: 1, max: 40 }),
  count: fc.integer({ min: 1, max: 5 }),
  pc: fc.constantFrom(0xc000, 0xc010),
});

test('reads come back one by one, however they were put together', () => {
  fc.assert(
    fc.property(fc.array(run, { maxLength: 30 }), (runs) => {
      const log = new ReadLog();
      const [ticks, pcs]: [number[], number[]] = [[], []];
      let tick = 0;
      for (const { gap, step, count, pc } of runs) {
        tick += gap;
        log.add({ tick, step, count, pc });
        for (let k = 0; k < count; k++) {
          ticks.push(tick + k * step);
          pcs.push(pc);
        }
        tick += (count - 1) * step;
      }
      const all = log.all();
      expect([...all.ticks]).toEqual(ticks);
      expect([...all.pcs]).toEqual(pcs);
    }),
    { seed: 11, numRuns: 300 },
  );
});
