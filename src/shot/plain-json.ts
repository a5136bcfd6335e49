import { LatelightError } from '../errors/latelight-error.ts';
import { fromBase64, toBase64 } from '../units/base64.ts';

/** Typed arrays that states are made of, by the name under which they are written. */
const ARRAYS = { Uint8Array, Uint16Array, Int32Array, Uint32Array, Float64Array } as const;
type ArrayName = keyof typeof ARRAYS;
type PlainArray = InstanceType<(typeof ARRAYS)[ArrayName]>;

/**
 * Plain data as JSON text: numbers, texts, booleans, null, lists, records and typed arrays. Arrays are written as
 * `{ "$array": name, "length": n, "base64": little-endian bytes }`; -0 is kept.
 * Error: INTERNAL for a number that is not finite, undefined, a function or a class of another kind.
 */
export function toPlainJson(data: unknown): string {
  return JSON.stringify(encode(data, 'state'));
}

function encode(data: unknown, path: string): unknown {
  if (typeof data === 'number') return encodeNumber(data, path);
  if (data === null || typeof data === 'string' || typeof data === 'boolean') return data;
  if (Array.isArray(data)) return data.map((item, i) => encode(item, `${path}[${i}]`));
  const name = arrayName(data);
  if (name !== undefined) return encodeArray(name, data as PlainArray);
  if (typeof data !== 'object' || Object.getPrototypeOf(data) !== Object.prototype) {
    throw new LatelightError('INTERNAL', { what: `${path} is no plain data` });
  }
  return Object.fromEntries(Object.entries(data).map(([key, item]) => [key, encode(item, `${path}.${key}`)]));
}

function encodeNumber(value: number, path: string): unknown {
  if (!Number.isFinite(value))
    throw new LatelightError('INTERNAL', { what: `${path} is ${value}, which no file can hold` });
  return Object.is(value, -0) ? { $number: '-0' } : value;
}

const arrayName = (data: unknown): ArrayName | undefined =>
  (Object.keys(ARRAYS) as ArrayName[]).find((name) => data instanceof ARRAYS[name]);

function encodeArray(name: ArrayName, array: PlainArray): object {
  const bytes = new Uint8Array(array.byteLength);
  const view = new DataView(bytes.buffer);
  for (let i = 0; i < array.length; i++) writeItem(view, name, i, array[i]!);
  return { $array: name, length: array.length, base64: toBase64(bytes) };
}

function writeItem(view: DataView, name: ArrayName, i: number, value: number): void {
  if (name === 'Uint8Array') view.setUint8(i, value);
  else if (name === 'Uint16Array') view.setUint16(i * 2, value, true);
  else if (name === 'Float64Array') view.setFloat64(i * 8, value, true);
  else view.setUint32(i * 4, value, true);
}

function readItem(view: DataView, name: ArrayName, i: number): number {
  if (name === 'Uint8Array') return view.getUint8(i);
  if (name === 'Uint16Array') return view.getUint16(i * 2, true);
  if (name === 'Float64Array') return view.getFloat64(i * 8, true);
  return name === 'Int32Array' ? view.getInt32(i * 4, true) : view.getUint32(i * 4, true);
}

/** What `toPlainJson` has written. Error: MOMENT_INVALID when the text is no such JSON. */
export function fromPlainJson(json: string): unknown {
  try {
    return decode(JSON.parse(json));
  } catch (error) {
    if (error instanceof LatelightError) throw error;
    throw new LatelightError('MOMENT_INVALID', { found: `no JSON: ${(error as Error).message}` });
  }
}

function decode(data: unknown): unknown {
  if (typeof data !== 'object' || data === null) return data;
  if (Array.isArray(data)) return data.map(decode);
  if ('$number' in data) return -0;
  if ('$array' in data) return decodeArray(data as Record<string, unknown>);
  return Object.fromEntries(Object.entries(data).map(([key, item]) => [key, decode(item)]));
}

function decodeArray({ $array: name, length, base64 }: Record<string, unknown>): PlainArray {
  const isKnown = typeof name === 'string' && Object.hasOwn(ARRAYS, name);
  const bytes = typeof base64 === 'string' ? fromBase64(base64) : undefined;
  const size = isKnown ? ARRAYS[name as ArrayName].BYTES_PER_ELEMENT : 1;
  if (!isKnown || bytes === undefined || bytes.length !== Number(length) * size) {
    throw new LatelightError('MOMENT_INVALID', { found: `a broken array of kind ${String(name).slice(0, 20)}` });
  }
  const array = new ARRAYS[name as ArrayName](Number(length));
  const view = new DataView(bytes.buffer);
  for (let i = 0; i < array.length; i++) array[i] = readItem(view, name as ArrayName, i);
  return array;
}
