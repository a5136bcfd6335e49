/** Where two pieces of plain data differ first, in words; undefined when they are equal. */
export function firstDifference(path: string, found: unknown, expected: unknown): string | undefined {
  if (found === expected) return undefined;
  if (!isRecord(found) || !isRecord(expected)) return `${path}: ${String(found)} for ${String(expected)}`;
  if (expected instanceof Uint8Array) return differentByte(path, found as unknown as Uint8Array, expected);
  for (const name of new Set([...Object.keys(expected), ...Object.keys(found)])) {
    const difference = firstDifference(`${path}.${name}`, found[name], expected[name]);
    if (difference !== undefined) return difference;
  }
  return undefined;
}

const isRecord = (value: unknown): value is Record<string, unknown> => typeof value === 'object' && value !== null;

function differentByte(path: string, found: Uint8Array, expected: Uint8Array): string | undefined {
  for (let i = 0; i < Math.max(found.length, expected.length); i++) {
    if (found[i] !== expected[i]) return `${path}[${i}]: ${found[i]} for ${expected[i]}`;
  }
  return undefined;
}
