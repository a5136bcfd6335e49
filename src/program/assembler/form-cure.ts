import type { Forms } from './instruction-forms.ts';
import type { Operand } from './operand.ts';

/** What to do about an operand that an instruction has no form for. `name` in capitals. */
export function cureForForm(name: string, forms: Forms, shape: Operand['shape']): string {
  if (name === 'BRK') return 'Take the operand out; put the byte behind BRK with .byte.';
  if (forms.size === 1 && forms.has('implied')) return `${name} works on nothing else: take the operand out.`;
  if (name === 'JMP' && shape === 'indexedIndirect')
    return 'Copy the address of the table into a pointer and write "jmp (pointer)"; or push it less one, high byte first, and write "rts".';
  switch (shape) {
    case 'none':
      return `Write what ${name} works on.`;
    case 'accumulator':
      return cureForAccumulator(name);
    case 'immediate':
      return cureForNumber(name, forms);
    case 'indirect':
      return cureForPointer(name, forms);
    case 'x':
    case 'y':
      return cureForIndex(forms, shape);
    default:
      return 'Use one of these forms.';
  }
}

function cureForAccumulator(name: string): string {
  if (name === 'INC') return 'To count A up write "clc", "adc #1".';
  if (name === 'DEC') return 'To count A down write "sec", "sbc #1".';
  return 'A is the register: leave it out, or give the symbol another name.';
}

function cureForNumber(name: string, forms: Forms): string {
  if (forms.has('relative') || name === 'JMP' || name === 'JSR') return 'Leave "#" out: the address itself is meant.';
  if (/^ST[AXY]$/.test(name)) return `${name} writes into memory: write the address to which.`;
  return 'Leave "#" out if an address is meant; a number has to be in memory first.';
}

function cureForPointer(name: string, forms: Forms): string {
  if (name === 'JSR') return 'Call a routine that consists of "jmp (pointer)".';
  return forms.has('indirectIndexed')
    ? 'A 6502 reads through a pointer with an index only: "ldy #0", "lda (pointer),y"; leave the brackets out for the address itself.'
    : 'Leave the brackets out; to calculate, write "0+(a+b)*2".';
}

function cureForIndex(forms: Forms, shape: 'x' | 'y'): string {
  const other = shape === 'x' ? 'y' : 'x';
  const hasOther =
    forms.has(shape === 'x' ? 'absoluteY' : 'absoluteX') || forms.has(shape === 'x' ? 'zeroPageY' : 'zeroPageX');
  return hasOther ? `Use the other index: ",${other}".` : 'Go through A: it has forms with ",x" and ",y".';
}
