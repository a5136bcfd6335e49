import { cos, exp, ln, sin } from '../../src/units/exact-math.ts';
import { Fingerprint } from '../../src/units/hash.ts';
import { hashNoise } from '../../src/units/noise.ts';

/** One hash over 200,000 results of each function; arguments spread over the whole range, made without Math. */
export function hashOfExactMath(): Record<string, string> {
  const run = (stream: number, f: (x: number) => number, low: number, high: number): string => {
    const hash = new Fingerprint();
    for (let i = 0; i < 200_000; i++) hash.addDouble(f(low + (high - low) * hashNoise(1, stream, i)));
    return hash.digest();
  };
  return {
    exp: run(1, exp, -745, 709),
    sin: run(2, sin, -1e5, 1e5),
    cos: run(3, cos, -1e5, 1e5),
    ln: run(4, ln, 1e-9, 1e3),
  };
}
