/** Words of other processors and other dialects, with what to write instead. Keys in lower case. */

/** Instructions that a 6502 does not have. Sources: MOS manual (what it has); the rest is common practice. */
const INSTRUCTIONS: Readonly<Record<string, string>> = {
  add: 'A 6502 adds with carry only: "clc", "adc #1".',
  bge: 'Write "bcs", which branches when the register is not smaller.',
  blt: 'Write "bcc", which branches when the register is smaller.',
  bra: 'A 6502 has no branch without a condition: write "jmp", or a branch whose condition is known to hold.',
  bsr: 'Write "jsr".',
  call: 'Write "jsr".',
  dea: 'A 6502 counts memory, X and Y only; for A write "sec", "sbc #1".',
  djnz: 'Write "dex" and "bne".',
  ina: 'A 6502 counts memory, X and Y only; for A write "clc", "adc #1".',
  jz: 'Write "beq".',
  jnz: 'Write "bne".',
  ld: 'Write "lda", "ldx" or "ldy".',
  mov: 'A 6502 moves through a register: "lda" reads, "sta" writes, "tax" and its like copy.',
  move: 'A 6502 moves through a register: "lda" reads, "sta" writes, "tax" and its like copy.',
  phx: 'A 6502 pushes A and the flags only: "txa", "pha".',
  phy: 'A 6502 pushes A and the flags only: "tya", "pha".',
  plx: 'A 6502 pulls A and the flags only: "pla", "tax".',
  ply: 'A 6502 pulls A and the flags only: "pla", "tay".',
  ret: 'Write "rts".',
  st: 'Write "sta", "stx" or "sty".',
  stp: 'A 6502 does not stop: write a loop, "forever: jmp forever".',
  stz: 'A 6502 stores registers only: "lda #0", "sta".',
  sub: 'A 6502 subtracts with carry only: "sec", "sbc #1".',
  trb: 'Write "and" with the other bits: "lda", "and #$F7", "sta".',
  tsb: 'Write "ora": "lda", "ora #$08", "sta".',
  txy: 'A 6502 has no copy between X and Y: "txa", "tay".',
  tyx: 'A 6502 has no copy between X and Y: "tya", "tax".',
  wai: 'A 6502 does not wait: write a loop that reads what the interrupt changes.',
};

const LONG_BRANCHES = ['jcc', 'jcs', 'jeq', 'jmi', 'jne', 'jpl', 'jvc', 'jvs'];
const LONG_BRANCH =
  'Branch over a jump with the condition turned round: "bne near", "jmp far", "near:" for a far "beq".';

const BYTES = '.byte';
const ROOM = '.res';

/** Commands under other names, without their dot. */
const COMMANDS: Readonly<Record<string, string>> = {
  asc: BYTES,
  ascii: BYTES,
  blkb: ROOM,
  db: BYTES,
  dc: BYTES,
  defb: BYTES,
  defs: ROOM,
  defw: '.word',
  ds: ROOM,
  dsb: ROOM,
  dw: '.word',
  elif: '.elseif',
  elsif: '.elseif',
  endm: '.endmacro',
  endp: '.endproc',
  endr: '.endrepeat',
  fcb: BYTES,
  fi: '.endif',
  fill: ROOM,
  incl: '.include',
  incsrc: '.include',
  rept: '.repeat',
  skip: ROOM,
  space: ROOM,
  src: '.include',
  string: BYTES,
  text: BYTES,
  zero: '.zeropage',
  zp: '.zeropage',
};

const CONSTANT = 'A constant is written "name = value".';

/** What to write instead of an instruction that a 6502 does not have, or of a command without its dot. */
export function cureForForeignName(name: string): string | undefined {
  const key = name.toLowerCase();
  if (key === 'equ') return CONSTANT;
  if (key === 'org') return 'The memory map is fixed: choose a segment with ".segment".';
  if (LONG_BRANCHES.includes(key)) return LONG_BRANCH;
  if (Object.hasOwn(INSTRUCTIONS, key)) return INSTRUCTIONS[key];
  return Object.hasOwn(COMMANDS, key) ? `The command is called "${COMMANDS[key]}" here.` : undefined;
}

/** What to write instead of a command of another dialect; `command` with its dot. */
export function cureForForeignCommand(command: string): string | undefined {
  const key = command.slice(1);
  if (key === 'equ') return CONSTANT;
  if (key === 'set') return 'A variable is written "name .set value".';
  return Object.hasOwn(COMMANDS, key) ? `It is called "${COMMANDS[key]}" here.` : undefined;
}

/** The command that a word of another dialect stands for, with its dot. */
export const ownCommand = (command: string): string | undefined =>
  Object.hasOwn(COMMANDS, command.slice(1)) ? COMMANDS[command.slice(1)] : undefined;

/** Names that segments often have elsewhere. */
const SEGMENTS: Readonly<Record<string, string>> = {
  chars: 'PATTERNS',
  chr: 'PATTERNS',
  data: 'RODATA',
  prg: 'CODE',
  ram: 'BSS',
  rom: 'CODE',
  startup: 'CODE',
  text: 'CODE',
  tiles: 'PATTERNS',
  zp: 'ZEROPAGE',
};

/** The segment that a name of another memory map stands for. */
export const ownSegment = (name: string): string | undefined =>
  Object.hasOwn(SEGMENTS, name.toLowerCase()) ? SEGMENTS[name.toLowerCase()] : undefined;
