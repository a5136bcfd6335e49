import { type AddressMode, OPCODES, OPERAND_BYTES } from '../../src/references/opcodes.ts';
import { hex } from './scripted-bus.ts';

/** Lines of a generated program, as bytes and as ca65 source. Labels are numbers. */
export type Operand = number | { readonly label: number; readonly part?: 'low' | 'high' };

/** A label, data bytes or an instruction. */
export type Line =
  | { readonly kind: 'label'; readonly label: number }
  | { readonly kind: 'bytes'; readonly bytes: readonly number[] }
  | { readonly kind: 'word'; readonly label: number }
  | { readonly kind: 'code'; readonly opcode: number; readonly operand: Operand };

const bytesOf = (line: Line): number => {
  if (line.kind === 'label') return 0;
  if (line.kind === 'word') return 2;
  return line.kind === 'bytes' ? line.bytes.length : 1 + OPERAND_BYTES[OPCODES[line.opcode]!.mode];
};

/** Write the lines into `image` from `start`, below `limit`; tells whether everything reached and fitted. */
export function encodeLines(lines: readonly Line[], start: number, limit: number, image: Uint8Array): boolean {
  const addresses = new Map<number, number>();
  let at = start;
  for (const line of lines) {
    if (line.kind === 'label') addresses.set(line.label, at);
    at += bytesOf(line);
  }
  if (at > limit) return false;
  at = start;
  for (const line of lines) {
    const next = at + bytesOf(line);
    if (line.kind === 'bytes') image.set(line.bytes, at);
    else if (line.kind === 'word') {
      // JMP () would take the high byte from the start of the same page.
      if ((at & 0xff) === 0xff) return false;
      image.set(wordBytes(addresses.get(line.label)!), at);
    } else if (line.kind === 'code') {
      const value = resolveOperand(line.operand, addresses);
      const isRelative = OPCODES[line.opcode]!.mode === 'relative';
      if (isRelative && (value - next < -128 || value - next > 127)) return false;
      // The outside counter takes the branch's own page for the next instruction's, see generated-program.ts.
      if (isRelative && at >> 8 !== next >> 8) return false;
      image.set([line.opcode, ...wordBytes(isRelative ? value - next : value)].slice(0, next - at), at);
    }
    at = next;
  }
  return true;
}

const wordBytes = (value: number): number[] => [value & 0xff, (value >> 8) & 0xff];

function resolveOperand(operand: Operand, addresses: ReadonlyMap<number, number>): number {
  if (typeof operand === 'number') return operand;
  const address = addresses.get(operand.label)!;
  if (operand.part === 'high') return address >> 8;
  return operand.part === 'low' ? address & 0xff : address;
}

const FORMATS: Readonly<Record<AddressMode, (text: string) => string>> = {
  implied: () => '',
  accumulator: () => 'a',
  immediate: (text) => `#${text}`,
  relative: (text) => text,
  zeroPage: (text) => text,
  zeroPageX: (text) => `${text},x`,
  zeroPageY: (text) => `${text},y`,
  absolute: (text) => `a:${text}`,
  absoluteX: (text) => `a:${text},x`,
  absoluteY: (text) => `a:${text},y`,
  indirect: (text) => `(${text})`,
  indexedIndirect: (text) => `(${text},x)`,
  indirectIndexed: (text) => `(${text}),y`,
};

/** The program as assembler source; the image around the code as plain bytes. */
export function sourceOf(image: Uint8Array, start: number, lines: readonly Line[]): string {
  const length = lines.reduce((sum, line) => sum + bytesOf(line), 0);
  return [
    '.setcpu "6502"',
    '.segment "HEADER"',
    '.byte "sim65", 2, 0, 0',
    '.word $0000, start',
    '.segment "CODE"',
    ...byteLines(image.subarray(0, start)),
    'start:',
    ...lines.map(sourceLine),
    ...byteLines(image.subarray(start + length)),
    '',
  ].join('\n');
}

function byteLines(bytes: Uint8Array): string[] {
  const lines: string[] = [];
  for (let at = 0; at < bytes.length; at += 16) lines.push(`.byte ${[...bytes.subarray(at, at + 16)].join(', ')}`);
  return lines;
}

function sourceLine(line: Line): string {
  if (line.kind === 'label') return `L${line.label}:`;
  if (line.kind === 'word') return `.word L${line.label}`;
  if (line.kind === 'bytes') return line.bytes.length === 0 ? '' : `.byte ${line.bytes.join(', ')}`;
  const { mnemonic, mode } = OPCODES[line.opcode]!;
  return `${mnemonic.toLowerCase()} ${FORMATS[mode](operandText(line.operand, mode))}`;
}

function operandText(operand: Operand, mode: AddressMode): string {
  if (typeof operand === 'number') return `$${hex(operand, OPERAND_BYTES[mode] * 2)}`;
  const name = `L${operand.label}`;
  if (operand.part === undefined) return name;
  return operand.part === 'high' ? `>${name}` : `<${name}`;
}
