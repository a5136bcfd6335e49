import { serialize } from 'node:v8';
import { expect } from 'vitest';
import type { Machine } from './machine.ts';

/** Equal in tick, state, trace and the latest complete pictures. */
export function expectEqual(reference: Machine, fast: Machine): void {
  expect(fast.console.tick).toBe(reference.console.tick);
  const [found, expected] = [fast.console.save(), reference.console.save()];
  if (Buffer.compare(serialize(found), serialize(expected)) !== 0) expect(found).toEqual(expected);
  const first = reference.events.findIndex((event, i) => JSON.stringify(event) !== JSON.stringify(fast.events[i]));
  if (first >= 0) expect(fast.events.slice(first, first + 4)).toEqual(reference.events.slice(first, first + 4));
  expect(fast.events.length).toBe(reference.events.length);
  for (let index = Math.max(0, reference.history.newest - 6); index <= reference.history.newest; index++) {
    const [a, b] = [reference.history.get(index)!, fast.history.get(index)!];
    expect(b.lineZeroTick).toBe(a.lineZeroTick);
    if (index < reference.history.newest)
      expect(Buffer.compare(Buffer.from(a.codes.buffer), Buffer.from(b.codes.buffer))).toBe(0);
  }
}
