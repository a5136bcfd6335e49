import { LatelightError } from '../errors/latelight-error.ts';

/** State of one device as plain data. */
export type SavedState = Readonly<Record<string, number | Float64Array | Uint16Array>>;

/** Copy a saved array into a device's own. Error: STATE_FIELD if its type or length is another. */
export function restoreArray(target: Float64Array | Uint16Array, saved: SavedState, name: string): void {
  const source = saved[name];
  const isAlike = source instanceof Float64Array === target instanceof Float64Array && typeof source === 'object';
  if (!isAlike || source.length !== target.length) {
    const found = typeof source === 'object' ? `an array of ${source.length}` : String(source);
    throw new LatelightError('STATE_FIELD', {
      field: name,
      found,
      expected: `an array of ${target.length} of its kind`,
    });
  }
  target.set(source);
}

/** A saved number. Error: STATE_FIELD if it is missing or not finite. */
export function restoreNumber(saved: SavedState, name: string): number {
  const value = saved[name];
  if (typeof value === 'number' && Number.isFinite(value)) return value;
  throw new LatelightError('STATE_FIELD', { field: name, found: String(value), expected: 'a finite number' });
}
