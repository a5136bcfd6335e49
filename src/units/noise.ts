/**
 * Seeded noise without state: the value depends on seed, stream and index only, so it can be asked for in any order.
 * Uniform in [0, 1) with 32 bits; integer operations only, equal in every engine.
 */
export function hashNoise(seed: number, stream: number, index: number): number {
  let h = Math.imul(seed ^ 0x9e3779b9, 0x85ebca6b);
  h = mix(h ^ stream);
  h = mix(h ^ (index >>> 0));
  h = mix(h ^ Math.floor(index / 0x1_0000_0000));
  return (h >>> 0) / 0x1_0000_0000;
}

function mix(value: number): number {
  let h = Math.imul(value ^ (value >>> 16), 0x7feb352d);
  h = Math.imul(h ^ (h >>> 15), 0x846ca68b);
  return h ^ (h >>> 16);
}
