import { assembleProgram } from '../../src/program/assembler/assembler.ts';
import { hashNoise } from '../../src/units/noise.ts';

/**
 * Random programs that wait: loops on a flag in memory, on the status register, on the ports, counted and not, and others
 * that look alike and must be run round by round. They stand in ROM or RAM, anywhere in a page, after a DMA or not. The NMI
 * handler sets the flag, changes a loop in RAM now and then, and leads out of a loop that has lasted some frames.
 */
class Writer {
  readonly lines: string[] = [];
  readonly #seed: number;
  #draws = 0;
  #labels = 0;

  constructor(seed: number) {
    this.#seed = seed;
  }

  draw(below: number): number {
    return Math.floor(hashNoise(911, this.#seed, this.#draws++) * below);
  }

  pick<T>(choices: readonly T[]): T {
    return choices[this.draw(choices.length)]!;
  }

  some(choices: readonly string[], most: number): string[] {
    return Array.from({ length: this.draw(most + 1) }, () => this.pick(choices));
  }

  label(): string {
    return `l${this.#labels++}`;
  }
}

/** They change nothing but registers; the index registers stay what a counter needs. */
const PLAIN = [
  'nop',
  'clc',
  'sec',
  'cld',
  'clv',
  'and #$ff',
  'ora #0',
  'eor #$5a',
  'asl a',
  'lsr a',
  'rol a',
  'ror a',
  'cmp #$10',
  'cpx #$20',
  'cpy #3',
  'adc #0',
  'sbc #1',
  'lda $0345',
  'lda zero',
  'bit other',
  'lda table+3',
  'lda (pointer),y',
  'lda table,x',
  'lda table,y',
  'lda zero,x',
  'lda (pointer,x)',
];
const ON_INDEXES = ['tax', 'tay', 'txa', 'tya', 'ldx other', 'ldy other', 'ldx zero,y', 'inx', 'dey'];
/** A loop with one of these changes something, or cannot be told ahead. */
const CHANGING = [
  'inc other',
  'dec other+1',
  'sta other',
  'stx $0345',
  'sty zero,x',
  'pha\n pla',
  'php\n plp',
  'jsr sub',
  'lda seed\n asl a\n eor #$1d\n sta seed',
  'lda $2007',
  'lda $2004',
  'lda $4015',
  'bit $2002',
  'lda $4016',
  'lda $5123',
  'inc $0401',
  'tsx',
  'cli',
  'sei',
  'asl seed',
  'sta $2005',
  'inc $4016',
  'lda $40f6,x',
];
const MASKS = ['$08', '$10', '$18', '$01', '$ff', '$40', '$09'];
/** Ends of a loop at `@h` that look for an exit `@o`. */
const ENDS = [
  ' lda flag\n beq @h',
  ' ldy flag\n beq @h',
  ' dex\n bne @h',
  ' iny\n bne @h',
  ' dey\n bpl @h',
  ' inx\n cpx #@n\n bne @h',
  ' inx\n cpx #@n\n bcc @h',
  ' dey\n cpy #@n\n bcs @h',
  ' iny\n cpy limit\n bne @h',
  ' dex\n bne @h\n dey\n bne @h',
  ' inx\n bne @h\n iny\n bne @h',
  ' dey\n beq @o\n dex\n bne @h',
  ' inx\n dey\n bne @h',
  ' iny\n lda flag\n beq @h',
  ' inx\n cpx #@n\n rol a\n bcc @h',
  ' dex\n php\n plp\n bne @h',
  ' bit flag\n bpl @h',
  ' lda flag\n cmp limit\n bne @h',
  ' jmp @h',
  ' dex\n bmi @o\n jmp @h',
];

const port = (w: Writer): string => w.pick(['$4016', '$4017', '$4017']);

/** How the round begins: nothing, a status read, a port read with or without an exit. */
function beginning(w: Writer): string {
  const mask = w.pick(MASKS);
  const status = `$${(0x2002 + 8 * w.draw(w.draw(4) === 0 ? 1024 : 1)).toString(16)}`;
  return w.pick([
    '',
    ` ${w.pick(['bpl', 'bmi', 'beq', 'bcs', 'bcc', 'bvs'])} @o\n`,
    ` ${w.pick(['bpl', 'bmi', 'beq', 'bcs', 'bcc'])} @s\n clc\n@s:\n`,
    ` lda ${port(w)}\n`,
    ` lda ${port(w)}\n and #${mask}\n ${w.pick(['beq', 'bne'])} @o\n`,
    ` lda ${port(w)}\n and #${mask}\n ${w.pick(['beq', 'bne'])} @s\n ${w.pick(['iny', 'inx', 'nop'])}\n@s:\n`,
    ` bit ${port(w)}\n bvc @o\n`,
    ` bit ${status}\n ${w.pick(['bpl', 'bvc', 'bmi', 'bvs'])} @h\n`,
    ` lda ${status}\n and #${w.pick(['$20', '$40', '$80', '$e0'])}\n ${w.pick(['beq', 'bne'])} @h\n`,
    ` lda ${status}\n and #${w.pick(['$20', '$40', '$80', '$e0'])}\n ${w.pick(['beq', 'bne'])} @o\n`,
  ]);
}

function loopText(w: Writer): string {
  const head = w.label();
  const filler = w.some(w.draw(4) === 0 ? [...PLAIN, ...ON_INDEXES] : PLAIN, 3);
  if (w.draw(5) === 0) filler.push(w.pick(CHANGING));
  const body = [...filler.map((line) => ` ${line}\n`), beginning(w)];
  if (w.draw(2) === 0) body.reverse();
  const text = `@h:\n${body.join('')}${w.pick(ENDS)}\n@o:\n`;
  return text
    .replaceAll('@h', head)
    .replaceAll('@o', `${head}out`)
    .replaceAll('@s', `${head}skip`)
    .replaceAll('@n', String(w.draw(256)));
}

const BEFORE = [
  ' lda #2\n sta $4014\n',
  ' lda #1\n sta $4016\n',
  ' lda #0\n sta $4016\n',
  ' lda #1\n sta $4016\n lda #0\n sta $4016\n ldx #9\n@p: lda $4017\n dex\n bne @p\n',
  ' lda #0\n sta flag\n',
  ' lda #$80\n sta $2000\n',
  ' lda #$90\n sta $2000\n lda #$1e\n sta $2001\n',
  ' lda #$18\n sta $2001\n',
  ' bit $2002\n',
  ' lda #$20\n sta $2006\n',
  ' sec\n',
];

/** One thing that the program does; a loop in RAM is copied there first. */
function pieceText(w: Writer, index: number): string {
  const pad = w.draw(2) === 0 ? ` .res ${w.draw(200)}, $ea\n` : '';
  const before = w.some(BEFORE, 3).map((text) => text.replaceAll('@p', w.label()));
  const start = `${pad}${before.join('')} ldx #${w.draw(256)}\n ldy #${w.draw(256)}\n lda #0\n sta flag\n`;
  const loop = loopText(w);
  if (w.draw(6) > 0 || loop.includes('jmp')) return `piece${index}:\n${start}${loop} jmp next\n`;
  const code = `ram${index}`;
  const copy = ` ldx #0\n${code}c: lda ${code},x\n sta $0400,x\n inx\n cpx #96\n bne ${code}c\n`;
  return `piece${index}:\n${copy}${start} jmp $0400\n${code}:\n${loop} jmp next\n .res 96, $ea\n`;
}

const HANDLER_PARTS = [
  ' lda #2\n sta $4014\n',
  ' bit $2002\n',
  ' lda #0\n sta $2005\n sta $2005\n',
  ' inc $0401\n',
  ' lda seed\n sta $0402\n',
  ' lda $4017\n',
  ' inc $0200\n',
  ' inc limit\n',
  ' inx\n',
  ' ldx #9\n@p: dex\n bne @p\n',
];

const PIECES = 8;

const HEADER = `
 .setcpu "6502"
 .segment "HEADER"
 .byte $4e, $45, $53, $1a, 2, 1, 0, 8, 0, 0, 0, 0, 0, 0, 0, 8
 .segment "ZEROPAGE"
zero: .res 1
flag: .res 1
other: .res 2
seed: .res 1
limit: .res 1
life: .res 1
turn: .res 1
pointer: .res 4
 .segment "CODE"
`;

const START = `
reset: sei
 ldx #$ff
 txs
 lda #<table
 sta pointer
 lda #>table
 sta pointer+1
wait1: bit $2002
 bpl wait1
wait2: bit $2002
 bpl wait2
 lda #$20
 sta $2006
 ldx #0
 stx $2006
fill: lda table,x
 sta $2007
 sta $0200,x
 inx
 bne fill
 lda #40
 sta $0200
 lda #$1e
 sta $2001
 lda #$80
 sta $2000
next: lda turn
 inc turn
 and #7
 asl a
 tax
 lda places+1,x
 pha
 lda places,x
 pha
 lda #3
 sta life
 lda #1
 php
 rti
sub: rts
`;

/** Text of the program of this seed. */
function waitingText(seed: number): string {
  const w = new Writer(seed);
  const pieces = Array.from({ length: PIECES }, (_, i) => pieceText(w, i)).join('');
  const parts = w.some(HANDLER_PARTS, 3).map((text) => text.replaceAll('@p', w.label()));
  const handler = `nmi: pha\n inc flag\n dec life\n beq escape\n${parts.join('')} pla\nirq: rti\n`;
  const leave = 'escape: ldx #$ff\n txs\n jmp next\n';
  const places = `places: .addr ${Array.from({ length: PIECES }, (_, i) => `piece${i}`).join(', ')}\n`;
  const bytes = (count: number): string =>
    Array.from({ length: count / 16 }, () => ` .byte ${Array.from({ length: 16 }, () => w.draw(256)).join(', ')}`).join(
      '\n',
    );
  const tail = `table:\n${bytes(512)}\n .segment "VECTORS"\n .addr nmi, reset, irq\n .segment "PATTERNS"\n${bytes(4096)}\n`;
  return HEADER + START + pieces + handler + leave + places + tail;
}

/** The image of the program of this seed. */
export function waitingProgram(seed: number): Uint8Array {
  const text = waitingText(seed);
  const result = assembleProgram('waiting.s', { readText: () => text, readBytes: () => undefined });
  if (result.image === null) throw new Error(`seed ${seed}: ${JSON.stringify(result.errors.slice(0, 3))}`);
  return result.image;
}
