import { hashNoise } from '../../src/units/noise.ts';

/**
 * Random pieces of source that both assemblers should take: instructions in every form, data, expressions of every kind,
 * labels of every kind, scopes, conditions, repetitions and calls of the macros of PRELUDE. A piece is meant to stand
 * with others in one file, so each name that it defines outside of a scope begins with its own prefix.
 */
export const PRELUDE = ` .setcpu "6502X"
ZERO = 0
SMALL = $34
LARGE = $1234
 .segment "ZEROPAGE"
zero: .res 2
pointer: .res 2
 .segment "OAM"
oam: .res 256
 .segment "BSS"
memory: .res 64
memory_end:
 .macro store value, first, second
 lda value
 sta first
 .ifnblank second
 sta second
 .endif
 .endmacro
 .macro wait count
 .local again
 ldx #count
again: dex
 bne again
 .endmacro
 .macro twice count
 wait count
 wait {<(count + 1)}
 .endmacro
 .macro down n
 .if n > 0
 .byte n
 down {n - 1}
 .exitmacro
 .endif
 .byte $EE
 .endmacro
 .macro given one, two, three
 .byte .paramcount, .blank({two})
 .endmacro
 .define WHITE $20
 .define NEXT memory+1,x
 .code
`;

export const POSTLUDE = `
 .segment "ZEROPAGE"
late: .res 1
LATE_SMALL = $42
 .code
LATE_LARGE = $2345
late_code: rts
 .segment "HEADER"
 .byte $4E, $45, $53, $1A
 .segment "VECTORS"
 .addr late_code, late_code, late_code
 .segment "PATTERNS"
 .res 16, $AA
`;

/** The pieces behind PRELUDE without those that hold these lines: some are wrong only where they stand. */
export function withoutLines(pieces: readonly string[], wrong: ReadonlySet<number>): string[] {
  let line = PRELUDE.split('\n').length;
  return pieces.filter((piece) => {
    const first = line;
    line += piece.split('\n').length - 1;
    return ![...wrong].some((at) => at >= first && at < line);
  });
}

/** A piece of source; the same seed gives the same piece. */
export function generatePiece(seed: number): string {
  return new PieceGenerator(seed).piece();
}

// biome-ignore format: one row a form
const IMPLIED = ['clc', 'cld', 'dex', 'inx', 'nop', 'pha', 'plp', 'rts', 'rti', 'sec', 'tax', 'tsx', 'tya', 'brk', 'jam', 'asl', 'lsr a', 'rol A', 'ror'];
const IMMEDIATE = [
  'adc',
  'and',
  'cmp',
  'cpx',
  'cpy',
  'eor',
  'lda',
  'ldx',
  'ldy',
  'ora',
  'sbc',
  'anc',
  'alr',
  'arr',
  'axs',
  'ane',
  'lax',
  'nop',
];
const DIRECT = [
  'adc',
  'bit',
  'cpx',
  'dec',
  'inc',
  'lda',
  'ldx',
  'ldy',
  'sta',
  'stx',
  'sty',
  'asl',
  'ror',
  'lax',
  'sax',
  'slo',
  'isc',
  'nop',
];
const DIRECT_X = ['adc', 'cmp', 'dec', 'inc', 'lda', 'ldy', 'sta', 'lsr', 'rla', 'dcp', 'nop', 'sbc'];
const DIRECT_Y = ['adc', 'eor', 'lda', 'ldx', 'sta', 'lax', 'slo', 'sre'];
const ZERO_PAGE_Y = ['stx', 'sax'];
const ABSOLUTE_ONLY = ['jmp', 'jsr'];
const POINTED = ['adc', 'and', 'cmp', 'eor', 'lda', 'ora', 'sbc', 'sta', 'lax', 'slo', 'isc'];
const BRANCHES = ['bcc', 'bcs', 'beq', 'bmi', 'bne', 'bpl', 'bvc', 'bvs'];
const OPERATORS = [
  '+',
  '-',
  '*',
  '|',
  '&',
  '^',
  '/',
  '.mod',
  '<<',
  '>>',
  '.bitor',
  '.bitand',
  '.bitxor',
  '.shl',
  '.shr',
];
const COMPARISONS = ['=', '<>', '<', '>', '<=', '>=', '&&', '||', '.and', '.or', '.xor'];

class PieceGenerator {
  readonly #seed: number;
  readonly #prefix: string;
  readonly #lines: string[] = [];
  /** Names with an address of the code, defined above; names that follow below. */
  #labels: string[] = [];
  #promised: string[] = [];
  #constants: string[] = [];
  #draws = 0;
  #names = 0;
  #depth = 0;
  /** The symbols around are those of an outer scope: not constant here. */
  #isInScope = false;

  constructor(seed: number) {
    this.#seed = seed;
    this.#prefix = `p${seed}_`;
  }

  piece(): string {
    const kind = this.#draw(0, 3);
    if (kind === 0) this.#wrap('.proc', '.endproc');
    else if (kind === 1) this.#wrap('.scope', '.endscope');
    else this.#block(this.#draw(8, 22));
    return `${this.#lines.join('\n')}\n`;
  }

  #draw(low: number, high: number): number {
    return low + Math.floor(hashNoise(this.#seed, 0, this.#draws++) * (high - low + 1));
  }

  #pick<T>(choices: readonly T[]): T {
    return choices[this.#draw(0, choices.length - 1)]!;
  }

  #name(): string {
    return `${this.#prefix}${this.#names++}`;
  }

  #put(text: string): void {
    this.#lines.push(text);
  }

  /** A block inside a scope; what it defines is not seen outside but for its name. */
  #wrap(begin: string, end: string): void {
    const name = this.#name();
    const [labels, constants, wasInScope] = [this.#labels, this.#constants, this.#isInScope];
    this.#put(` ${begin} ${name}`);
    this.#labels = begin === '.proc' ? [...labels, name] : [...labels];
    this.#constants = [];
    this.#isInScope = true;
    this.#block(this.#draw(4, 12));
    const inner = this.#labels[this.#labels.length - 1];
    this.#put(` ${end}`);
    this.#isInScope = wasInScope;
    this.#constants = constants;
    this.#labels = begin === '.proc' ? [...labels, name] : [...labels];
    if (inner !== undefined && !labels.includes(inner) && inner !== name) this.#put(` .word ${name}::${inner}`);
  }

  /** Statements; names that were promised are defined at its end. */
  #block(count: number): void {
    const promisedBefore = this.#promised;
    this.#promised = [this.#name(), this.#name()];
    this.#put(`${this.#name()}:`);
    for (let i = 0; i < count; i++) this.#statement();
    for (const name of this.#promised) {
      this.#put(`${name}: nop`);
      this.#labels.push(name);
    }
    this.#promised = promisedBefore;
  }

  #statement(): void {
    const kind = this.#draw(0, 19);
    if (kind < 8) this.#instruction();
    else if (kind < 10) this.#data();
    else if (kind === 10) this.#label();
    else if (kind === 11) this.#constant();
    else if (kind === 12) this.#branches();
    else if (kind === 13) this.#condition();
    else if (kind === 14) this.#repetition();
    else if (kind === 15) this.#macro();
    else if (kind === 16) this.#elsewhere();
    else if (kind === 17 && this.#depth < 2) this.#inner();
    else if (kind === 18) this.#room();
    else this.#assertion();
  }

  #inner(): void {
    const kind = this.#pick(['proc', 'scope']);
    this.#depth++;
    this.#wrap(`.${kind}`, `.end${kind}`);
    this.#depth--;
  }

  #instruction(): void {
    const kind = this.#draw(0, 9);
    if (kind === 0) this.#put(` ${this.#pick(IMPLIED)}`);
    else if (kind < 3) this.#put(` ${this.#pick(IMMEDIATE)} #${this.#byte()}`);
    else if (kind < 5) this.#put(` ${this.#pick(DIRECT)} ${this.#address()}`);
    else if (kind === 5) this.#put(` ${this.#pick(DIRECT_X)} ${this.#address()},x`);
    else if (kind === 6) this.#put(` ${this.#pick(DIRECT_Y)} ${this.#address()},y`);
    else if (kind === 7)
      this.#put(` ${this.#pick(POINTED)} ${this.#pick([`(${this.#zeroPage()}),y`, `(${this.#zeroPage()},x)`])}`);
    else if (kind === 8) this.#put(` ${this.#pick(ABSOLUTE_ONLY)} ${this.#address()}`);
    else
      this.#put(
        this.#pick([
          ` jmp (${this.#address()})`,
          ` ${this.#pick(ZERO_PAGE_Y)} ${this.#zeroPage()},y`,
          ' lda NEXT',
          ' lda #WHITE+1',
        ]),
      );
  }

  #zeroPage(): string {
    const plain = this.#pick([
      'zero',
      'pointer',
      'pointer+1',
      'late',
      'SMALL',
      'LATE_SMALL',
      '$10',
      'zero+(memory_end-memory)',
    ]);
    return plain;
  }

  /** An address of either size. */
  #address(): string {
    const kind = this.#draw(0, 9);
    if (kind === 0) return `${this.#pick(['z:', 'a:'])}${this.#pick(['zero', 'late', 'SMALL'])}`;
    if (kind === 1)
      return `${this.#pick(['zero', 'pointer', 'late'])}${this.#pick(['+1', '-0', '+SMALL', '*1', '|0', '+(1)', '+zero-zero', '+memory-memory'])}`;
    if (kind === 2) return this.#pick(['<', '>']) + this.#place();
    if (kind === 3)
      return `${this.#place()}${this.#pick(['+1', '-1', '+LARGE-LARGE', '+SMALL', '&$7FFF', '|1', '^$55', '+2*3', '>>1', '/2', '*1'])}`;
    if (kind === 4)
      return this.#pick([
        'SMALL+1',
        'LARGE-LARGE',
        'LARGE/2',
        'LATE_SMALL',
        'LATE_LARGE',
        'LATE_SMALL+1',
        '*',
        '*+3',
        '.loword(zero)',
        '.max(zero,1)',
      ]);
    if (kind === 5) return `.lobyte(${this.#place()})${this.#pick(['', '+1', '|$100'])}`;
    if (kind === 6) return this.#pick(this.#constants.length > 0 ? this.#constants : ['SMALL']);
    return this.#place();
  }

  /** A name with an address, or a number that can be one. */
  #place(): string {
    return this.#pick([
      ...this.#labels,
      ...this.#promised,
      'zero',
      'memory',
      'memory_end',
      'oam',
      'late',
      'late_code',
      'LARGE',
      'pointer',
    ]);
  }

  /** A value of one byte. */
  #byte(): string {
    const kind = this.#draw(0, 9);
    if (kind === 0) return `${this.#draw(0, 255)}`;
    if (kind === 1) return `$${this.#draw(0, 255).toString(16).toUpperCase()}`;
    if (kind === 2) return `%${this.#draw(0, 255).toString(2)}`;
    if (kind === 3)
      return this.#pick([
        "'a'",
        'SMALL',
        'ZERO',
        'LATE_SMALL',
        '0FFh',
        '10h',
        'zero',
        'late',
        'memory_end-memory',
        'WHITE',
      ]);
    if (kind < 6) return `${this.#pick(['<', '>', '^'])}${this.#place()}`;
    if (kind === 6) return `<(${this.#expression(2)})`;
    if (kind === 7) return `${this.#pick(['.lobyte', '.hibyte', '.bankbyte'])}(${this.#expression(2)})`;
    if (kind === 8) return `(${this.#expression(1)})${this.#pick(COMPARISONS)}(${this.#expression(1)})`;
    return `!(${this.#expression(1)})`;
  }

  /** Any value. */
  #expression(depth: number): string {
    if (depth === 0)
      return this.#pick([
        this.#place(),
        `${this.#draw(0, 300)}`,
        `$${this.#draw(0, 0xffff).toString(16)}`,
        'SMALL',
        "'Z'",
      ]);
    const kind = this.#draw(0, 7);
    if (kind === 0) return `(${this.#expression(depth - 1)})`;
    if (kind === 1) return `${this.#pick(['-', '~', '+', '<', '>', '^'])}${this.#expression(0)}`;
    if (kind === 2)
      return `.${this.#pick(['max', 'min'])}(${this.#expression(depth - 1)},${this.#expression(depth - 1)})`;
    if (kind === 3) return `${this.#pick(['.loword', '.hiword'])}(${this.#expression(depth - 1)})`;
    const operator = this.#pick(OPERATORS);
    const isShift = /^(<<|>>|\.shl|\.shr)$/.test(operator);
    return `${this.#expression(depth - 1)} ${operator} ${isShift ? this.#draw(0, 12) : this.#expression(depth - 1)}`;
  }

  #word(): string {
    return this.#pick([
      this.#place(),
      `${this.#place()}+1`,
      `.loword(${this.#expression(2)})`,
      `${this.#draw(0, 0xffff)}`,
      '*',
      '*-2',
    ]);
  }

  #list(count: number, entry: () => string): string {
    return Array.from({ length: count }, entry).join(this.#pick([',', ', ', ' , ']));
  }

  #data(): void {
    const count = this.#draw(1, 4);
    const text = this.#pick(['"abc"', '"it is; so"', '"\'"', '"A", 0']);
    const kind = this.#draw(0, 7);
    if (kind < 2) this.#put(` .byte ${this.#list(count, () => this.#byte())}`);
    else if (kind === 2) this.#put(` .byte ${text}, ${this.#byte()}`);
    else if (kind === 3) this.#put(` ${this.#pick(['.word', '.addr'])} ${this.#list(count, () => this.#word())}`);
    else if (kind === 4) this.#put(` .dbyt ${this.#list(count, () => this.#word())}`);
    else if (kind === 5) this.#put(` .dword ${this.#list(count, () => this.#word())}`);
    else if (kind === 6) this.#put(` ${this.#pick(['.lobytes', '.hibytes'])} ${this.#list(count, () => this.#word())}`);
    else this.#put(' .asciiz "text"');
  }

  #label(): void {
    const name = this.#name();
    this.#put(this.#pick([`${name}:`, `${name}: nop`, ` ${name}: lda #1`, `${name}: .byte 1`]));
    this.#labels.push(name);
  }

  #constant(): void {
    const name = this.#name();
    this.#put(
      `${name} ${this.#pick(['=', ':='])} ${this.#pick(['5', 'SMALL+1', 'zero+1', 'memory+2', '*', '*+1', 'LARGE', 'late', 'memory_end-memory'])}`,
    );
    this.#constants.push(name);
  }

  #branches(): void {
    const branch = this.#pick(BRANCHES);
    const kind = this.#draw(0, 3);
    if (kind === 0) {
      this.#put(`: nop\n ${branch} :-\n ${branch} :+\n nop\n:`);
    } else if (kind === 1) {
      const local = `@l${this.#names++}`;
      this.#put(`${local}: ${this.#pick(['dex', 'nop', 'iny'])}\n ${branch} ${local}`);
    } else if (kind === 2) {
      const local = `@f${this.#names++}`;
      this.#put(` ${branch} ${local}\n nop\n${local}:`);
    } else this.#put(` ${branch} *${this.#pick(['', '+2', '-3', '+10', '+127', '-100'])}`);
  }

  /** Conditions that are constant wherever they stand. */
  #condition(): void {
    const outer = this.#isInScope ? '::' : '';
    const condition = this.#pick([
      '.if 1',
      '.if 0',
      `.if ${outer}SMALL = $34`,
      `.if ${outer}LARGE > 5 && ${outer}SMALL`,
      '.ifdef zero',
      '.ifndef zero',
      '.ifdef late_code',
      '.if .defined(memory)',
      '.ifconst 5+1',
      `.if .const(${outer}SMALL)`,
      '.if .not .defined(nothing)',
    ]);
    this.#put(` ${condition}`);
    this.#instruction();
    if (this.#draw(0, 1) === 0) {
      this.#put(this.#pick([' .else', ' .elseif 1', ' .elseif 0']));
      this.#instruction();
    }
    this.#put(' .endif');
  }

  #repetition(): void {
    const outer = this.#isInScope ? '::' : '';
    const count = this.#pick(['0', '1', '2', '3', `${outer}ZERO+2`]);
    this.#put(` .repeat ${count}, i`);
    this.#put(
      this.#pick([' .byte i, <(i*300), >(i*300)', ' lda zero+i', ' lda memory+i', ' lda #i', ' .word *+i', ': bne :-']),
    );
    if (this.#draw(0, 3) === 0) this.#put(' .repeat 2, j\n .byte i*2+j\n .endrepeat');
    this.#put(` ${this.#pick(['.endrepeat', '.endrep'])}`);
  }

  #macro(): void {
    const kind = this.#draw(0, 5);
    if (kind === 0)
      this.#put(` store ${this.#pick(['#5', 'zero', 'memory', '{memory,x}', '#<late_code'])}, ${this.#address()}`);
    else if (kind === 1) this.#put(` store #${this.#byte()}, ${this.#place()}, ${this.#place()}`);
    else if (kind === 2) this.#put(` wait ${this.#draw(1, 9)}`);
    else if (kind === 3) this.#put(` twice ${this.#draw(1, 9)}`);
    else if (kind === 4) this.#put(` down ${this.#draw(0, 4)}`);
    else this.#put(this.#pick([' given', ' given 1', ' given 1,2', ' given ,2', ' given {1,1},{},3', ' given 1,,3']));
  }

  /** A line in another segment. */
  #elsewhere(): void {
    const name = this.#name();
    this.#put(this.#pick([' .rodata', ' .segment "RODATA"', ' .pushseg\n .rodata']));
    const isPushed = this.#lines[this.#lines.length - 1]!.includes('.pushseg');
    this.#put(`${name}:`);
    this.#data();
    this.#put(isPushed ? ' .popseg' : ' .code');
    this.#labels.push(name);
  }

  #room(): void {
    this.#put(
      this.#pick(
        [' .res 1', ' .res 3, $77', ' .res 0', ' .res 2, <$1234', ' .res memory_end-memory-60,1'].slice(
          0,
          this.#isInScope ? 4 : 5,
        ),
      ),
    );
  }

  #assertion(): void {
    this.#put(
      ` .assert ${this.#pick(['late_code >= $8000', '1', 'memory = $300', 'zero < 256'])}, ${this.#pick(['error', 'lderror'])}, "it holds"`,
    );
  }
}
