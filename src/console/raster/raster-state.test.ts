import { describe, expect, test } from 'vitest';
import { TIMINGS } from '../../units/timing.ts';
import { checkRasterState, copyRasterState, newRasterState } from './raster-state.ts';

const timing = TIMINGS['60hz'];
const fresh = () => newRasterState(timing, 0);

describe('saved state of the raster unit', () => {
  test('a copy is equal and shares no array with its source', () => {
    const source = newRasterState(timing, 12_345);
    source.oam.fill(7);
    source.targets = [{ isLive: true, x: 1, y: 2, width: 3, height: 4 }];
    const copy = fresh();
    copyRasterState(source, copy);
    expect(copy).toEqual(source);
    source.oam.fill(8);
    expect(copy.oam[0]).toBe(7);
    expect(copy.targets[0]).not.toBe(source.targets[0]);
  });

  test('a sound state passes', () => {
    expect(() => checkRasterState(fresh(), timing)).not.toThrow();
  });

  test.each([
    ['line', { clock: { ...fresh().clock, line: 262 } }, 'raster.clock.line', '262'],
    ['dot', { clock: { ...fresh().clock, dot: -1 } }, 'raster.clock.dot', '-1'],
    ['fraction', { scroll: { ...fresh().scroll, v: 0.5 } }, 'raster.scroll.v', '0.5'],
    ['not a number', { scroll: { ...fresh().scroll, v: Number.NaN } }, 'raster.scroll.v', 'NaN'],
    ['short array', { oam: new Uint8Array(255) }, 'raster.oam', '255 bytes'],
    ['list for array', { palette: [] }, 'raster.palette', ''],
    ['missing record', { units: undefined }, 'raster.units', 'undefined'],
    ['flag', { registers: { ...fresh().registers, isVblank: 1 } }, 'raster.registers.isVblank', '1'],
    ['targets', { targets: undefined }, 'raster.targets', 'undefined'],
  ])('a bad %s is refused by name', (_, change, field, found) => {
    const bad = { ...fresh(), ...change } as ReturnType<typeof fresh>;
    expect(() => checkRasterState(bad, timing)).toThrow(
      expect.objectContaining({ code: 'STATE_FIELD', details: expect.objectContaining({ field, found }) }),
    );
  });
});
