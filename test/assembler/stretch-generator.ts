import { hashNoise } from '../../src/units/noise.ts';

/** Random stretches of code whose cycles can be counted: the same seed gives the same lines. */

/** Zero page bytes that the code branches on; they are the first of the zero page. */
export const FLAGS = 4;

export const ABOVE = ` .setcpu "6502X"
 .zeropage
flags: .res ${FLAGS}
pointer: .res 2
 .bss
buffer: .res 200
 .code
`;

/** Tables of 16 bytes, one inside a page and one across, and subroutines. */
const BELOW = [
  'delay: ldx #3',
  '@l: dex',
  ' bne @l',
  ' rts',
  'outer: nop',
  ' jsr delay',
  ' rts',
  'either: lda flags',
  ' bne @e',
  ' nop',
  '@e: rts',
  ' .align 256',
  ' .res $40',
  'inside: .res 16, 7',
  ' .res $F8 - $50',
  'across: .res 16, 9',
];

// biome-ignore format: one row a kind
const PLAIN = ['nop', 'clc', 'sec', 'clv', 'inx', 'dey', 'tax', 'txa', 'tay', 'pha', 'pla', 'asl a', 'ror a', 'lda #$5A', 'and #$3C', 'eor #$FF', 'adc #7', 'cmp #9', 'ldx #4', 'ldy #200',
  'lda flags', 'sta buffer', 'inc buffer', 'dec pointer', 'lsr flags,x', 'sta $10,x', 'stx $20,y', 'lax buffer', 'dcp buffer,x', 'slo (pointer,x)', 'sta buffer,x', 'sta (pointer),y', 'anc #3', 'bit $FFFF', 'php', 'plp', 'nop $10', 'nop #1', 'sax buffer'];
const BRANCHES = ['beq', 'bne', 'bmi', 'bpl'];

class Stretch {
  readonly lines: string[] = [];
  readonly #seed: number;
  #draws = 0;
  #labels = 0;
  #ways = 0;

  constructor(seed: number) {
    this.#seed = seed;
  }

  draw(choices: number): number {
    return Math.floor(hashNoise(this.#seed, 8, this.#draws++) * choices);
  }

  pick<T>(list: readonly T[]): T {
    return list[this.draw(list.length)]!;
  }

  add(...lines: readonly string[]): void {
    this.lines.push(...lines.map((line) => (/^\w+:/.test(line) ? line : ` ${line}`)));
  }

  label(): string {
    return `l${this.#labels++}`;
  }

  piece(depth: number): void {
    const kinds = depth > 1 ? 6 : 11;
    switch (this.draw(kinds)) {
      case 0:
        this.add(`ldx #${this.draw(256)}`, this.pick(['lda inside,x', 'lda across,x', 'adc buffer,x', 'nop $12F0,x']));
        return;
      case 1:
        this.add(
          'lda flags',
          'and #15',
          'tay',
          this.pick(['lda inside,y', 'ldx inside,y', 'lda across,y', 'cmp across-1,y']),
        );
        return;
      case 2:
        this.add(
          ...this.pick([['lda (pointer),y'], ['ldy #0', 'lda (pointer),y'], ['sta (pointer),y'], ['lax (pointer),y']]),
        );
        return;
      case 6:
      case 7:
        this.loop(depth);
        return;
      case 8:
        this.ways(depth);
        return;
      case 9:
        this.add(`jsr ${this.pick(['delay', 'outer', 'either'])}`);
        return;
      case 10:
        this.add(
          ...this.pick([
            ['lda #2', 'sta $4014'],
            ['lda #1', '.byte $2C', 'lda #2'],
          ]),
        );
        return;
      default:
        this.add(this.pick(PLAIN));
    }
  }

  /** A counted loop around a few instructions that leave its counter alone. */
  loop(depth: number): void {
    const label = this.label();
    const body = ['nop', 'lda buffer', 'inc buffer', 'sta $10'];
    const inner = Array.from({ length: this.draw(3) }, () => this.pick(body));
    switch (this.draw(5)) {
      case 0:
        this.add(`ldx #${this.draw(40)}`, `${label}: dex`, ...inner, 'cpx #0', `bne ${label}`);
        return;
      case 1:
        this.add(`ldy #${200 + this.draw(56)}`, `${label}: iny`, `bne ${label}`);
        return;
      case 2:
        this.add('lda #$80', `${label}: lsr a`, `bcc ${label}`);
        return;
      case 3:
        this.add('lda #0', 'clc', `${label}: adc #${16 + this.draw(100)}`, `bcc ${label}`);
        return;
      default: {
        const outer = this.label();
        this.add(`ldy #${1 + this.draw(4)}`, `${outer}: ldx #${1 + this.draw(9)}`, `${label}: dex`, ...inner);
        this.add(...(inner.length === 0 ? [] : ['cpx #0']), `bne ${label}`, 'dey', `bne ${outer}`);
        if (depth === 0) this.piece(2);
      }
    }
  }

  /** A branch on a byte that nobody knows: both ways. */
  ways(depth: number): void {
    if (this.#ways++ > 2) return;
    const [other, on] = [this.label(), this.label()];
    this.add(`lda flags+${this.draw(FLAGS)}`, `${this.pick(BRANCHES)} ${other}`);
    for (let i = this.draw(3); i > 0; i--) this.piece(depth + 1);
    if (this.draw(2) === 0) this.add(`${other}:`);
    else {
      this.add(`jmp ${on}`, `${other}:`);
      for (let i = this.draw(3); i > 0; i--) this.piece(depth + 1);
      this.add(`${on}:`);
    }
  }
}

/** Lines of a program around one noted stretch; `claim` = what the note says, for instance "exactly 14". */
export function generateStretch(seed: number): (claim: string) => string {
  const stretch = new Stretch(seed);
  const padding = ` .res ${stretch.draw(300)}, $EA`;
  const isRound = stretch.draw(4) === 0;
  if (isRound) stretch.add('again:');
  for (let i = 1 + stretch.draw(8); i > 0; i--) stretch.piece(0);
  if (isRound) stretch.add(...stretch.pick([['jmp again'], ['lda flags+3', 'beq again']]));
  else if (stretch.draw(6) === 0) stretch.add('rts');
  const below = stretch.draw(2) === 0 ? [' rts', ...BELOW] : [' nop', ...BELOW];
  return (claim) => [padding, `; ${claim} cycles from here`, ...stretch.lines, '; to here', ...below].join('\n');
}
