import type { Symbols } from '../program/labels.ts';
import type { CalibrationOutcome } from '../shot/calibration-watch.ts';
import { grouped } from '../units/grouped.ts';

/** What a calibration has brought, as the program's memory says it. */
export function calibrationText(
  outcome: CalibrationOutcome,
  symbols: Symbols,
  peek: (address: number) => number,
): string {
  if (outcome.kind === 'calibrated') {
    const { units, unitCycles, delayMs } = outcome;
    return `The program has found a delay of ${delayMs.toFixed(1)} ms and goes by it from now on (${grouped(units)} units of ${unitCycles} processor cycles). No target was there: the pull is no shot.`;
  }
  const held = bytesOf(outcome.expression, symbols).map(
    ([name, address]) => `${name} is $${peek(address).toString(16).toUpperCase().padStart(2, '0')}`,
  );
  const why = held.length === 0 ? '' : `: ${held.join(', ')}`;
  return `The program has refused to calibrate, for ${outcome.expression}${why}. What it says of that stands in its picture. Change the light or the aim and pull again, twice where the first pull puts its message away.`;
}

/** The places that an expression reads by their names. */
function bytesOf(expression: string, symbols: Symbols): (readonly [name: string, address: number])[] {
  const names = new Set([...expression.matchAll(/\bbyte\(\s*([A-Za-z_@]\w*)\s*\)/g)].map(([, name]) => name!));
  return [...names].flatMap((name) => {
    const address = symbols.get(name);
    return address === undefined ? [] : [[name, address] as const];
  });
}
