import { FUNCTION_NAMES } from '../program/assembler/expression-parser.ts';
import { MEMORY_MAP } from '../program/assembler/memory-map.ts';
import { COMMAND_NAMES } from '../program/assembler/statements.ts';
import { UNSUPPORTED_NAMES } from '../program/assembler/unsupported.ts';
import { hexAddress } from '../program/labels.ts';

const WIDTH = 116;

/** What the assembler takes and says; lists are those that it checks sources with. */
export function assembleHelp(): string {
  return `latelight assemble SOURCE -o IMAGE [--labels FILE] [--listing FILE]

One source and the files that it includes make one image of 40,976 bytes. The language is a part of ca65's (cc65 2.19): what
is accepted here makes the same image with
  ca65 -g -o game.o game.s && ld65 -C homebrew-demo/nrom.cfg -o game.bin game.o
Undocumented instructions need .setcpu "6502X", as there. Nothing that is read is written over. Exit status: 0 done, 1 refused, 2 command line.
  -o IMAGE         the cartridge image; not written when there are errors
  --labels FILE    addresses of labels as ld65 -Ln writes them: the "labels" of a scenario
  --listing FILE   address, bytes and cycles of each line; when there are errors they stand behind their lines

Memory map (fixed)
  segment     first        bytes   where
${MEMORY_MAP.map(segmentRow).join('\n')}
  Chosen with .segment "NAME"; .code .rodata .bss .zeropage for short. * must be chosen by every program. CODE and RODATA
  share their room. In ZEROPAGE, OAM and BSS bytes are reserved with .res: nothing fills them at power-on.

Least program
          .segment "HEADER"
          .byte $4E, $45, $53, $1A, 2, 1, 0, 8, 0, 0, 0, 0, 0, 0, 0, 8    ; 32 KiB program, 8 KiB patterns, light gun in port 2
          .code
  reset:  sei
  wait:   lda $4017       ; a light gun in port 2: bit 3 is 0 while its sensor sees light, bit 4 is 1 while the trigger is pulled
          and #$08
          bne wait
  lit:    jmp lit
  nmi:    rti
          .segment "VECTORS"
          .addr nmi, reset, nmi
          .segment "PATTERNS"
          .res 16

Commands
${wrapped(COMMAND_NAMES)}
Functions in expressions
${wrapped(FUNCTION_NAMES)}
Refused by their names, each with what to write instead
${wrapped(UNSUPPORTED_NAMES)}
Also refused, although ca65 takes it
  .if and its like behind a label; parameters of .define; .exitmacro inside a .repeat; characters beyond ASCII in strings
Silently without effect: .debuginfo .list .listbytes .pagelength .fileopt

Where files are looked for
  .include   beside the file that names it, then beside those that include that one, then from the working folder
  .incbin    from the working folder first, then as .include

Notes of cycles: comments, so other assemblers pass over them
          ; exactly 14 cycles from here
  look:   lda $4017
          and #$08
          beq lit
          lda frameDone
          beq look
          ; to here
  - The number may be any constant expression. Instead of "exactly 14" two numbers say least and most, "14 to 15 cycles from
    here"; both must be right, a wider range is refused, too. For "at most 20" write "0 to 20" and take the least from the message.
  - Lines that end with a jump back to their own beginning are one round of a loop: that way back is counted with its branch
    taken, ways out of the lines are not counted. All other lines are counted from the first to behind the last.
  - A note behind a statement counts that statement in, at both ends. A ";to here" without a beginning is warned of only.
  - Branches whose flag is known from numbers loaded inside the lines go one way, all others both ways. Subroutines are counted
    to their RTS; those that change where they return to are refused.
  - Indexed reads: a known index and a base at the beginning of a page are exact. Else the index is TAKEN TO STAY INSIDE
    the data from the operand's label to the next label; the result then says "with indexes inside their tables", and a
    larger index can take one cycle more. Without a label, or when the data lies in two pages, the count is a range.
  - A store to $4014 counts 513 to 514 cycles of sprite DMA. Stores through pointers are taken not to reach $4014 or the
    stack. Interrupts are not counted.

How to read the listing
  addr  bytes                          cycles   line     source
  8011  A9 00                          2          65     @clear: lda #0
  cycles   2      always                                   2/3, 2/4  a branch not taken / taken (4: to another page)
           4+1    one more when the index crosses a page   4 in      4 while the index stays inside the operand's data
           4+1!   ... and the data lies in two pages        ends      the processor stops
  bytes    more than 32 are shown as the first eight and "+N"; (256 bytes) = reserved, not in the image
  > before the source: inside a file, a macro or a repetition (>> >>> inside each other);  - left out by a condition
  === FILE  the lines of another file begin;  ! error, ! warning  behind the line that they are about
`;
}

function segmentRow({ name, start, size, kind, isNeeded }: (typeof MEMORY_MAP)[number]): string {
  const first = start === null ? 'behind CODE' : hexAddress(start);
  const place = kind === 'rom' ? 'in the image' : 'memory';
  return `${isNeeded ? '*' : ' '} ${name.padEnd(12)}${first.padEnd(12)}${String(size).padStart(6)}   ${place}`;
}

/** Names in lines. */
function wrapped(names: readonly string[]): string {
  const lines = [' '];
  for (const name of names) {
    if (lines[lines.length - 1]!.length + name.length >= WIDTH) lines.push(' ');
    lines[lines.length - 1] += ` ${name}`;
  }
  return lines.join('\n');
}
