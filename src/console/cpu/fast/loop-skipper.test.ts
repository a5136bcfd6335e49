import { describe, expect, it } from 'vitest';
import { LoopSkipper } from './loop-skipper.ts';
import { PageTable } from './page-table.ts';
import type { SteadyPorts } from './steady-ports.ts';

const HEAD = 0x8000;
const ROOM = 1000;
const FLAG = 0x10;

/** 64 KiB, pages $20 and $40 claimed: $2002 gives $1F, $4017 gives $58, both for `steadyUntil`; nothing else can be said. */
class Board implements SteadyPorts {
  readonly memory = new Uint8Array(0x10000).fill(0xea);
  readonly pages = new PageTable(0x10000);
  readonly skipper = new LoopSkipper(this.memory, this.pages, this);
  readonly registers = { a: 0, x: 0, y: 0, s: 0xfd, p: 0x20 };
  steadyUntil = Infinity;
  told = -1;
  asked: string[] = [];

  constructor(program: string, head = HEAD) {
    for (let page = 0; page < 0x100; page++) {
      const offset = page === 0x20 || page === 0x40 ? -1 : page * 0x100;
      this.pages.map(page, offset, offset);
    }
    this.memory[FLAG] = 0;
    this.memory.set(
      program.split(' ').map((byte) => Number.parseInt(byte, 16)),
      head,
    );
  }

  isFetchTold(address: number): boolean {
    return address === this.told;
  }

  steadyRead(address: number, dataBus: number, cycle: number): number {
    this.asked.push(`${address.toString(16)} bus ${dataBus.toString(16)} cycle ${cycle}`);
    return address === 0x2002 ? 0x1f : address === 0x4017 ? 0x58 : -1;
  }

  readSteadily(): void {}

  /** The second time at the head: by then the registers are those of the loop. */
  roundsFrom(head = HEAD, cycle = 100, room = ROOM): number {
    return this.skipper.find(this.registers, head, head, cycle, room).rounds;
  }
}

describe('rounds that end as they began', () => {
  it.each([
    ['lda flag / beq', 'A5 10 F0 FC', { p: 0x22 }, 6],
    ['jmp itself', '4C 00 80', {}, 3],
    ['branch to itself', '50 FE', {}, 3],
    ['lda flag / cmp #$10 / bcc', 'A5 10 C9 10 90 FA', { p: 0xa0 }, 8],
    ['lda absolute,x / beq', 'BD 00 01 F0 FB', { p: 0x22, x: FLAG }, 7],
    ['lda (),y / beq, index carries', 'B1 20 F0 FC', { p: 0x22, y: 0x10 }, 9],
    ['bit flag / nop / beq', '24 10 EA F0 FB', { p: 0x22 }, 8],
    ['asl a / beq', '0A F0 FD', { p: 0x22 }, 5],
    ['a path over a forward branch', 'A5 10 F0 02 00 00 4C 00 80', { p: 0x22 }, 9],
  ])('%s', (_, program, registers, cycles) => {
    const board = new Board(program);
    board.memory.set([0xf8, 0x00], 0x20); // pointer $00F8, zero beyond it
    board.memory.fill(0, 0x100, 0x200);
    Object.assign(board.registers, registers);
    const before = { ...board.registers };
    expect(board.roundsFrom()).toBe(Math.floor(ROOM / cycles));
    expect(board.skipper.leap.cycles).toBe(cycles);
    expect(board.registers).toEqual(before);
  });

  it('a branch over a page takes a cycle more (wiki, "CPU addressing modes")', () => {
    const board = new Board('A5 10 F0 FC', 0x80fd);
    board.registers.p = 0x22;
    expect(board.roundsFrom(0x80fd)).toBe(Math.floor(ROOM / 7));
  });

  it('the first round changes A: one round later it can be told', () => {
    const board = new Board('A5 10 F0 FC');
    board.registers.a = 7;
    expect(board.roundsFrom()).toBe(0);
    Object.assign(board.registers, { a: 0, p: 0x22 });
    expect(board.roundsFrom()).toBe(166);
  });
});

describe('rounds with a claimed read', () => {
  it('end before the first read that may differ', () => {
    const board = new Board('2C 02 20 10 FB'); // bit $2002 / bpl: read in cycles 103, 110, ...
    board.registers.p = 0x22;
    for (const [until, rounds] of [
      [103, 0],
      [104, 1],
      [110, 1],
      [111, 2],
      [Infinity, 142],
    ] as const) {
      board.steadyUntil = until;
      expect(board.roundsFrom()).toBe(rounds);
    }
    expect(board.asked[0]).toBe('2002 bus 20 cycle 103');
    expect(board.skipper.leap).toMatchObject({ readAddress: 0x2002, readValue: 0x1f, readCycle: 103, readPc: HEAD });
  });

  it.each([
    ['two of them', 'AD 17 40 AD 17 40 D0 F8'],
    ['one with an index', 'BD 16 40 D0 FB'],
    ['one that cannot be said', 'AD 16 40 D0 FB'],
    ['one through a pointer', 'A1 30 D0 FC'],
  ])('%s: none', (_, program) => {
    const board = new Board(program);
    board.memory.set([0x17, 0x40], 0x30);
    Object.assign(board.registers, { a: 0x58 });
    expect(board.roundsFrom()).toBe(0);
  });
});

describe('rounds that count', () => {
  it.each([
    ['dex / bne', 'CA D0 FD', { x: 100 }, 100 - 1, { x: 1, p: 0x20 }],
    ['dey / bpl', '88 10 FD', { y: 50 }, 50, { y: 0, p: 0x22 }],
    ['inx / bne over 255', 'E8 D0 FD', { x: 0xf0 }, 15, { x: 0xff, p: 0xa0 }],
    ['inx / cpx #$60 / bcc', 'E8 E0 60 90 FB', { x: 0x20 }, 63, { x: 0x5f, p: 0xa0 }],
    ['inx / dey / bne', 'E8 88 D0 FC', { x: 3, y: 40 }, 39, { x: 42, y: 1, p: 0x20 }],
    [
      'lda $4017 / and #8 / beq out / dex / bne',
      'AD 17 40 29 08 F0 03 CA D0 F6',
      { a: 8, x: 60 },
      59,
      { a: 8, x: 1, p: 0x20 },
    ],
    ['iny / lda flag / beq', 'C8 A5 10 F0 FB', { y: 9, p: 0x22 }, 125, { y: (9 + 125) & 0xff, p: 0x22 }],
  ])('%s', (_, program, registers, rounds, after) => {
    const board = new Board(program);
    Object.assign(board.registers, registers);
    expect(board.roundsFrom()).toBe(rounds);
    expect(board.registers).toMatchObject(after);
  });

  it.each([
    ['the counter is an index', 'BD 00 90 CA D0 FA'],
    ['the counter goes into A', '8A CA D0 FC'],
    ['it counts by two', 'CA CA D0 FC'],
    ['the carry of its comparison goes into A', 'E8 E0 60 A9 00 2A F0 F8'],
    ['the head looks at flags of the round before', 'F0 05 CA D0 FB EA'],
    ['another register changes, too', '18 69 01 CA D0 FA'],
  ])('%s: none', (_, program) => {
    const board = new Board(program);
    Object.assign(board.registers, { x: 100, p: 0x20 });
    expect(board.roundsFrom()).toBe(0);
    expect(board.registers).toEqual({ a: 0, x: 100, y: 0, s: 0xfd, p: 0x20 });
  });
});

describe('what is not skipped', () => {
  it.each([
    ['inc', 'E6 12 A5 10 F0 FA'],
    ['sta', '85 12 A5 10 F0 FA'],
    ['jsr', '20 00 90 A5 10 F0 F9'],
    ['pha / pla', '48 68 F0 FC'],
    ['cli', '58 A5 10 F0 FB'],
    ['a loop of more than 16 instructions', `${'EA '.repeat(16)}50 EE`],
    ['an undocumented instruction', 'A7 10 F0 FC'],
    ['a write to a port', '8D 16 40 50 FB'],
  ])('a loop with %s', (_, program) => {
    const board = new Board(program);
    board.registers.p = 0x22;
    expect(board.roundsFrom()).toBe(0);
  });

  it('a fetch that somebody wants to be told of', () => {
    const board = new Board('A5 10 F0 FC');
    board.registers.p = 0x22;
    board.pages.watchFetches(0x80, true);
    board.told = HEAD + 4;
    expect(board.roundsFrom()).toBe(166);
    board.told = HEAD + 2;
    expect(board.roundsFrom()).toBe(0);
  });
});

it('a head that wins nothing rests after four tries, one that has won much is tried longer, and each is woken', () => {
  const board = new Board('E6 12 D0 FC');
  for (let i = 0; i < 4; i++) {
    expect(board.skipper.rests[HEAD]).toBe(0);
    board.roundsFrom();
  }
  expect(board.skipper.rests[HEAD]).toBe(1);
  board.skipper.wake(10);
  expect(board.skipper.rests[HEAD]).toBe(0);
  board.memory.set([0x4c, 0x00, 0x80], HEAD);
  expect(board.roundsFrom()).toBe(333);
  board.memory.set([0xe6, 0x12, 0xd0, 0xfc], HEAD);
  for (let i = 0; i < 25; i++) board.roundsFrom();
  expect(board.skipper.rests[HEAD]).toBe(0);
  expect(board.skipper.skippedCycles).toBe(999);
});
