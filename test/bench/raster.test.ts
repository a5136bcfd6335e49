import { expect, test } from 'vitest';
import { bundled } from '../raster/bundle.ts';
import type { rasterFrameTimes } from './raster.ts';

interface Bench {
  readonly rasterFrameTimes: typeof rasterFrameTimes;
}

test('bench of the raster units: six times a frame, the fast unit far below the reference', async () => {
  const bench = await bundled<Bench>('test/bench/raster.ts');
  const times = bench.rasterFrameTimes(60);
  for (const { name, us } of times) console.log(`${name.padEnd(34)} ${us.toFixed(1)} µs`);
  const of = (name: string) => times.find((time) => time.name === name)!.us;
  // Loose, since other work may run beside: the ratio measured is about 20, 150 and 400.
  expect(of('reference, busy screen') / of('fast, busy screen')).toBeGreaterThan(5);
  expect(of('reference, busy screen') / of('fast, 24 lines of the busy screen')).toBeGreaterThan(30);
  expect(of('reference, busy screen') / of('fast, flags only')).toBeGreaterThan(80);
});
