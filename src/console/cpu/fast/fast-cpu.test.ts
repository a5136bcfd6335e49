import { describe, expect, it } from 'vitest';
import { FastCpu } from './fast-cpu.ts';
import type { FastCpuPorts } from './fast-cpu-ports.ts';

const PROGRAM = 0x8000;
const LONG = 1000;

/** 64 KiB, pages $20 and $40 claimed; writes down what the processor tells; `onWrite` is what a register does. */
class Board implements FastCpuPorts {
  readonly memory = new Uint8Array(0x10000).fill(0xea);
  readonly log: string[] = [];
  readonly cpu = new FastCpu(this.memory, this);
  dataBus = 0;
  heldCycles = 0;
  onWrite: (address: number, value: number, cycle: number) => void = () => {};

  constructor(program: string) {
    for (let page = 0; page < 0x100; page++) {
      const offset = page === 0x20 || page === 0x40 ? -1 : page * 0x100;
      this.cpu.pages.map(page, offset, offset);
    }
    this.place(PROGRAM, program);
    this.place(0xfffa, '00 90 00 80 00 A0');
    this.cpu.load({ ...this.cpu.save(false), a: 0x5a, s: 0xfd, p: 0x20, pc: PROGRAM }, 0);
  }

  place(address: number, bytes: string): void {
    this.memory.set(
      bytes.split(' ').map((byte) => Number.parseInt(byte, 16)),
      address,
    );
  }

  read(address: number, cycle: number): number {
    this.log.push(`${cycle}: R ${hex(address)} bus ${hex(this.dataBus)}`);
    return this.dataBus;
  }

  write(address: number, value: number, cycle: number): void {
    this.log.push(`${cycle}: W ${hex(address)}=${hex(value)}`);
    this.onWrite(address, value, cycle);
  }

  fetched(address: number, cycle: number): void {
    this.log.push(`${cycle}: F ${hex(address)}`);
  }

  hold(address: number, cycle: number): number {
    const cycles = this.heldCycles;
    this.heldCycles = 0;
    if (cycles > 0) this.log.push(`${cycle}: held at ${hex(address)}`);
    return cycles;
  }

  served(kind: 'nmi' | 'irq', cycle: number): void {
    this.log.push(`${cycle}: ${kind}`);
  }

  /** A write in `cycle` asks for the 513 cycles of a sprite DMA. */
  askHold(cycle: number): void {
    this.heldCycles = 513;
    this.cpu.events.holdCycle = cycle + 1;
  }
}

const hex = (value: number): string => value.toString(16).toUpperCase();

describe('claimed accesses in the loop', () => {
  it('have their cycle and the byte before them on the bus, of the operand or of a dummy read (wiki, "Open bus behavior")', () => {
    const board = new Board('A2 01 AD 17 40 BD FF 3F 9D 00 20');
    board.cpu.run(LONG);
    expect(board.log).toEqual(['5: R 4017 bus 40', '10: R 4000 bus EA', '14: R 2001 bus 20', '15: W 2001=EA']);
  });

  it('INC of a port: one read, two writes in neighbouring cycles (open single-step vectors)', () => {
    const board = new Board('EE 16 40');
    board.cpu.run(LONG);
    expect(board.log).toEqual(['3: R 4016 bus 40', '4: W 4016=40', '5: W 4016=41']);
  });
});

describe('events that an access sets', () => {
  it('a sprite DMA holds the fetch after the store, wiki "DMA"; nothing in between', () => {
    const board = new Board('8D 14 40 8D 00 20');
    board.onWrite = (address, _, cycle) => address === 0x4014 && board.askHold(cycle);
    board.cpu.run(LONG);
    expect(board.log).toEqual(['3: W 4014=5A', '4: held at 8003', '520: W 2000=5A']);
  });

  it('a DMA asked for by the first write of INC waits for the second', () => {
    const board = new Board('EE 14 40');
    board.onWrite = (_, __, cycle) => board.askHold(cycle);
    board.cpu.run(LONG);
    expect(board.log.slice(1)).toEqual(['4: W 4014=40', '5: W 4014=41', '6: held at 8003']);
  });

  it('a DMA that begins in the middle of an instruction holds its next read, wiki "DMA"', () => {
    const board = new Board('EA EA EA EA EA EA 8D 00 20'); // cycles 12 to 15
    board.heldCycles = 4;
    board.cpu.events.holdCycle = 14;
    board.cpu.run(LONG);
    expect(board.log).toEqual(['14: held at 8008', '19: W 2000=5A']);
  });

  it('an NMI that a store enables comes after the next instruction (vblank test set 04)', () => {
    const board = new Board('8D 00 20 EA EA');
    board.onWrite = (_, __, cycle) => {
      board.cpu.events.nmiCycle = cycle;
    };
    board.cpu.run(LONG);
    expect(board.log).toEqual(['3: W 2000=5A', '11: nmi']); // NOP in 4 and 5, sequence from 6
  });

  it('an IRQ that the last cycle takes back is served all the same, wiki "CPU interrupts"', () => {
    const board = new Board('EE 00 20');
    board.onWrite = (_, __, cycle) => {
      board.cpu.events.irqCycle = cycle === 4 ? 4 : Infinity;
    };
    board.cpu.run(LONG);
    expect(board.log.slice(1)).toEqual(['4: W 2000=20', '5: W 2000=21', '11: irq']);
  });

  it('an edge that the owner has left behind is none', () => {
    const board = new Board('EA');
    board.cpu.run(LONG);
    board.cpu.events.nmiCycle = LONG - 1;
    board.cpu.run(2 * LONG);
    expect(board.log).toEqual([]);
  });

  it('nor is one that it sets into the past in a write or a hold', () => {
    const board = new Board('8D 14 40 8D 00 20');
    board.onWrite = (address, _, cycle) => {
      board.cpu.events.nmiCycle = cycle - 1;
      if (address === 0x4014) board.askHold(cycle);
    };
    board.cpu.run(LONG);
    expect(board.log).toEqual(['3: W 4014=5A', '4: held at 8003', '520: W 2000=5A']);
  });

  it('a limit brought nearer ends the run after that instruction', () => {
    const board = new Board('EA 8D 00 20 EA EA');
    board.onWrite = (_, __, cycle) => {
      board.cpu.events.limitCycle = cycle;
    };
    board.cpu.run(LONG);
    expect(board.cpu.cycle).toBe(6);
    expect(board.cpu.save(true)).toMatchObject({ pc: 0x8004, opcodePc: 0x8001, nmiLine: true });
  });
});

describe('fetches', () => {
  it('are reported once each in a watched page, in the loop and outside', () => {
    const board = new Board('EA EA 00');
    board.cpu.pages.watchFetches(0x80, true);
    board.cpu.run(12);
    expect(board.log).toEqual(['0: F 8000', '2: F 8001', '4: F 8002']);
  });

  it('are reported again after the clock has been set back', () => {
    const board = new Board('00');
    board.cpu.pages.watchFetches(0x80, true);
    const state = board.cpu.save(false);
    for (let time = 0; time < 2; time++) {
      board.cpu.load(state, 0);
      board.cpu.run(9);
    }
    expect(board.log).toEqual(['0: F 8000', '0: F 8000']);
  });

  it('from a claimed page see the last byte of the jump on the bus', () => {
    const board = new Board('4C 10 40');
    board.cpu.run(4);
    expect(board.log[0]).toBe('3: R 4010 bus 40');
  });
});

it('a run ends when the processor jams; the next idles to the limit, beyond 2^31 cycles too', () => {
  const board = new Board('02');
  board.cpu.run(2 ** 33);
  expect([board.cpu.cycle, board.cpu.isJammed]).toEqual([3, true]);
  board.cpu.run(2 ** 33);
  expect([board.cpu.cycle, board.cpu.isJammed, board.cpu.opcodePc]).toEqual([2 ** 33, true, PROGRAM]);
  board.cpu.reset();
  expect([board.cpu.cycle, board.cpu.isJammed, board.cpu.save(false).pc]).toEqual([2 ** 33 + 7, false, PROGRAM]);
});

it('refuses a state with a field out of range', () => {
  const { cpu } = new Board('EA');
  expect(() => cpu.load({ ...cpu.save(false), s: 0x100 }, 0)).toThrow(
    'cpu.s is 256, expected a whole number, 0 to 255',
  );
});
