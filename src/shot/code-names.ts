import { hexAddress, type Symbols } from '../program/labels.ts';

/** The lowest address at which code is looked for; below it symbols are variables and numbers. */
const CODE_START = 0x6000;

/**
 * Where an address lies in a program: the nearest label at or before it, `look` or `look+5`, a cheap local label behind the
 * label that it belongs to, `look@wait+2`; the address `$C123` where there is none. In banked code the label may be that
 * of another bank.
 */
export function codeName(symbols: Symbols, address: number): string {
  const label = nearestBefore(symbols, address, CODE_START, (name) => !name.startsWith('@'));
  const local = nearestBefore(symbols, address, label?.start ?? CODE_START, (name) => name.startsWith('@'));
  const nearest = local ?? label;
  if (nearest === undefined) return hexAddress(address);
  const name = `${label?.name ?? ''}${local?.name ?? ''}`;
  return address === nearest.start ? name : `${name}+${address - nearest.start}`;
}

function nearestBefore(
  symbols: Symbols,
  address: number,
  from: number,
  isMeant: (name: string) => boolean,
): { readonly name: string; readonly start: number } | undefined {
  let nearest: { readonly name: string; readonly start: number } | undefined;
  for (const [name, start] of symbols) {
    if (start <= address && start >= from && start > (nearest?.start ?? -1) && isMeant(name)) nearest = { name, start };
  }
  return nearest;
}
