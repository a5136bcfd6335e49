import { describe, expect, it } from 'vitest';
import { ScriptedBus } from '../../../test/console/scripted-bus.ts';
import { OPCODES, type OpcodeSpec } from '../../references/opcodes.ts';
import type { CpuState } from './cpu-state.ts';

const START: CpuState = {
  ...{ a: 0x5a, x: 0, y: 0, s: 0xf0, p: 0x20, pc: 0x0400, opcodePc: 0 },
  ...{ jammed: false, idleReads: 0, nmiLine: false, pending: 0, polled: 0 },
};

/** Run one instruction with some memory (`'0400 A9 01'`) and registers; the log and the bus. */
function runOne(bytes: readonly string[], registers: Partial<CpuState> = {}): ScriptedBus {
  const bus = new ScriptedBus();
  for (const line of bytes) bus.place(Number.parseInt(line.slice(0, 4), 16), line.slice(5));
  bus.cpu.load({ ...START, ...registers });
  bus.cpu.step();
  return bus;
}

const nameOf = ({ opcode, mnemonic, mode }: OpcodeSpec): string =>
  `${opcode.toString(16).padStart(2, '0')} ${mnemonic} ${mode}`;

/** Operand F0 12, pointer at $F0 (and, indexed, at $F1 and $10) to $12F0: an index of 1 stays, of $20 crosses. */
function cyclesOf(spec: OpcodeSpec, index: number, p: number, pc = 0x0400): number {
  const bus = new ScriptedBus();
  bus.memory.set([spec.opcode, 0xf0, 0x12], pc);
  for (const pointer of [0xf0, 0xf1, 0x10]) bus.memory.set([0xf0, 0x12], pointer);
  bus.cpu.load({ ...START, x: index, y: index, p, pc });
  bus.cpu.step();
  return bus.cycle;
}

describe('cycles, published 6502 matrix', () => {
  it.each(OPCODES.filter(({ access }) => access !== 'branch').map((spec) => [nameOf(spec), spec] as const))(
    '%s',
    (_, spec) => {
      expect(cyclesOf(spec, 0x01, 0x20)).toBe(spec.cycles);
      expect(cyclesOf(spec, 0x20, 0x20)).toBe(spec.cycles + (spec.pageCross ? 1 : 0));
    },
  );

  it.each(OPCODES.filter(({ access }) => access === 'branch').map((spec) => [nameOf(spec), spec] as const))(
    '%s: 2 not taken, 3 taken, 4 into another page',
    (_, spec) => {
      const isTakenWhenClear = (spec.opcode & 0x20) === 0;
      const [taken, notTaken] = isTakenWhenClear ? [0x20, 0xe3] : [0xe3, 0x20];
      expect(cyclesOf(spec, 0, notTaken)).toBe(2);
      expect(cyclesOf(spec, 0, taken, 0x0480)).toBe(3); // offset $F0 = -16
      expect(cyclesOf(spec, 0, taken, 0x0400)).toBe(4);
    },
  );
});

/** Title, memory, registers, bus activity. Source: wiki "CPU interrupts" and the open single-step vectors. */
const ROWS: readonly (readonly [string, readonly string[], Partial<CpuState>, string])[] = [
  ['implied', ['0400 EA'], {}, 'F 0400, R 0401'],
  ['accumulator', ['0400 0A'], {}, 'F 0400, R 0401'],
  ['immediate', ['0400 A9 01'], {}, 'F 0400, R 0401'],
  ['zero page read', ['0400 A5 12'], {}, 'F 0400, R 0401, R 0012'],
  ['zero page write', ['0400 85 12'], {}, 'F 0400, R 0401, W 0012=5A'],
  ['zero page rmw', ['0400 E6 12', '0012 41'], {}, 'F 0400, R 0401, R 0012, W 0012=41, W 0012=42'],
  ['zero page,X read wraps', ['0400 B5 F0'], { x: 0x20 }, 'F 0400, R 0401, R 00F0, R 0010'],
  ['zero page,Y write wraps', ['0400 96 F0'], { x: 7, y: 0x20 }, 'F 0400, R 0401, R 00F0, W 0010=07'],
  ['zero page,X rmw', ['0400 F6 12'], { x: 1 }, 'F 0400, R 0401, R 0012, R 0013, W 0013=00, W 0013=01'],
  ['absolute read', ['0400 AD 34 12'], {}, 'F 0400, R 0401, R 0402, R 1234'],
  ['absolute write', ['0400 8D 34 12'], {}, 'F 0400, R 0401, R 0402, W 1234=5A'],
  [
    'INC of a port: one read, two writes',
    ['0400 EE 16 40'],
    {},
    'F 0400, R 0401, R 0402, R 4016, W 4016=00, W 4016=01',
  ],
  ['absolute,X read of a port, no cross: one read', ['0400 BD 15 40'], { x: 1 }, 'F 0400, R 0401, R 0402, R 4016'],
  ['LDA $12FF,X with X = 1', ['0400 BD FF 12'], { x: 1 }, 'F 0400, R 0401, R 0402, R 1200, R 1300'],
  ['absolute,X write, no cross', ['0400 9D 00 20'], { x: 1 }, 'F 0400, R 0401, R 0402, R 2001, W 2001=5A'],
  ['absolute,Y write, cross', ['0400 99 FF 12'], { y: 1 }, 'F 0400, R 0401, R 0402, R 1200, W 1300=5A'],
  [
    'absolute,X rmw, cross',
    ['0400 FE FF 12'],
    { x: 1 },
    'F 0400, R 0401, R 0402, R 1200, R 1300, W 1300=00, W 1300=01',
  ],
  [
    'absolute,X rmw, no cross',
    ['0400 FE F0 12'],
    { x: 1 },
    'F 0400, R 0401, R 0402, R 12F1, R 12F1, W 12F1=00, W 12F1=01',
  ],
  ['address wraps at the top', ['0400 BD FF FF'], { x: 2 }, 'F 0400, R 0401, R 0402, R FF01, R 0001'],
  [
    '(zp,X) read, pointer wraps',
    ['0400 A1 F0', '00FF 34', '0000 12'],
    { x: 0x0f },
    'F 0400, R 0401, R 00F0, R 00FF, R 0000, R 1234',
  ],
  [
    '(zp,X) rmw',
    ['0400 E3 10', '0012 34 12'],
    { x: 2 },
    'F 0400, R 0401, R 0010, R 0012, R 0013, R 1234, W 1234=00, W 1234=01',
  ],
  ['(zp),Y read, no cross', ['0400 B1 10', '0010 30 12'], { y: 4 }, 'F 0400, R 0401, R 0010, R 0011, R 1234'],
  [
    '(zp),Y read, cross: LDA ($04),Y, pointer $73FA, Y = $31 (wiki, "Open bus behavior")',
    ['0400 B1 04', '0004 FA 73'],
    { y: 0x31 },
    'F 0400, R 0401, R 0004, R 0005, R 732B, R 742B',
  ],
  [
    'STA (zp),Y: uncorrected read always',
    ['0400 91 FF', '00FF 30', '0000 12'],
    { y: 4 },
    'F 0400, R 0401, R 00FF, R 0000, R 1234, W 1234=5A',
  ],
  [
    '(zp),Y rmw',
    ['0400 F3 10', '0010 FF 12'],
    { y: 1 },
    'F 0400, R 0401, R 0010, R 0011, R 1200, R 1300, W 1300=00, W 1300=01',
  ],
  ['NOP absolute,X reads like any other', ['0400 1C FF 12'], { x: 1 }, 'F 0400, R 0401, R 0402, R 1200, R 1300'],
  ['NOP absolute reads', ['0400 0C 34 12'], {}, 'F 0400, R 0401, R 0402, R 1234'],
  ['branch not taken', ['0400 F0 10'], {}, 'F 0400, R 0401'],
  ['branch taken', ['0400 D0 10'], {}, 'F 0400, R 0401, R 0402'],
  ['branch into the next page', ['04F0 D0 7F'], { pc: 0x04f0 }, 'F 04F0, R 04F1, R 04F2, R 0471'],
  ['branch into the page before', ['0400 D0 80'], {}, 'F 0400, R 0401, R 0402, R 0482'],
  [
    'branch at the end of a page: the next instruction counts',
    ['04FE D0 05'],
    { pc: 0x04fe },
    'F 04FE, R 04FF, R 0500',
  ],
  ['JMP', ['0400 4C 34 12'], {}, 'F 0400, R 0401, R 0402'],
  [
    'JMP ($12FF): high byte from $1200 (wiki, "Errata")',
    ['0400 6C FF 12'],
    {},
    'F 0400, R 0401, R 0402, R 12FF, R 1200',
  ],
  ['JSR', ['0400 20 34 12'], {}, 'F 0400, R 0401, R 01F0, W 01F0=04, W 01EF=02, R 0402'],
  ['RTS', ['0400 60', '01F1 33 12'], {}, 'F 0400, R 0401, R 01F0, R 01F1, R 01F2, R 1233'],
  ['RTI', ['0400 40', '01F1 FF 34 12'], {}, 'F 0400, R 0401, R 01F0, R 01F1, R 01F2, R 01F3'],
  ['PHA', ['0400 48'], {}, 'F 0400, R 0401, W 01F0=5A'],
  ['PHP pushes B and bit 5', ['0400 08'], { p: 0xe1 }, 'F 0400, R 0401, W 01F0=F1'],
  ['PLA, stack wraps', ['0400 68'], { s: 0xff }, 'F 0400, R 0401, R 01FF, R 0100'],
  ['BRK', ['0400 00'], { p: 0xe1 }, 'F 0400, R 0401, W 01F0=04, W 01EF=02, W 01EE=F1, R FFFE, R FFFF'],
];

describe('bus activity, one access a cycle', () => {
  it.each(ROWS)('%s', (_, bytes, registers, expected) => {
    expect(runOne(bytes, registers).log.join(', ')).toBe(expected);
  });

  it('RTS and JSR go where they should, RTI takes P without B', () => {
    expect(runOne(['0400 60', '01F1 33 12']).cpu.save()).toMatchObject({ pc: 0x1234, s: 0xf2 });
    expect(runOne(['0400 20 34 12']).cpu.save()).toMatchObject({ pc: 0x1234, s: 0xee });
    expect(runOne(['0400 40', '01F1 FF 34 12']).cpu.save()).toMatchObject({ pc: 0x1234, s: 0xf3, p: 0xef });
  });

  it('open bus: both reads of LDA ($04),Y see the byte read last, $73 (wiki, "Open bus behavior")', () => {
    const bus = new OpenBus();
    bus.place(0x0400, 'B1 04');
    bus.place(0x0004, 'FA 73');
    bus.cpu.load({ ...START, y: 0x31 });
    bus.cpu.step();
    expect(bus.unanswered).toEqual([
      [0x732b, 0x73],
      [0x742b, 0x73],
    ]);
    expect(bus.cpu.save().a).toBe(0x73);
  });
});

/** Nobody answers from $2000 up: the last byte stays on the wires. */
class OpenBus extends ScriptedBus {
  readonly unanswered: [address: number, value: number][] = [];
  #lastByte = 0;

  override read(address: number): number {
    const value = super.read(address);
    if (address < 0x2000) {
      this.#lastByte = value;
      return value;
    }
    this.unanswered.push([address, this.#lastByte]);
    return this.#lastByte;
  }
}

/** Wiki, "Programming with unofficial opcodes". A = $F3, X and Y as given. */
describe('SHA SHX SHY TAS as measured', () => {
  const store = (bytes: string, registers: Partial<CpuState>, held = 0): string => {
    const bus = new ScriptedBus();
    bus.place(0x0400, bytes);
    bus.place(0x0010, 'F0 12');
    const readCycle = bytes.startsWith('93') ? 4 : 3;
    bus.stall = (cycle) => (cycle === readCycle ? held : 0);
    bus.cpu.load({ ...START, a: 0xf3, ...registers });
    bus.cpu.step();
    return bus.log.slice(-2).join(', ');
  };

  it('ANDs with the base high byte + 1', () => {
    expect(store('9E F0 12', { x: 0xff, y: 1 })).toBe('R 12F1, W 12F1=13');
    expect(store('9C F0 12', { x: 1, y: 0xfe })).toBe('R 12F1, W 12F1=12');
    expect(store('9F F0 12', { x: 0x1f, y: 1 })).toBe('R 12F1, W 12F1=13');
    expect(store('93 10', { x: 0x1f, y: 1 })).toBe('R 12F1, W 12F1=13');
    expect(store('9B F0 12', { x: 0x1f, y: 1 })).toBe('R 12F1, W 12F1=13');
  });

  it('stores the byte as the high byte of the address when the index carries', () => {
    expect(store('9E F0 12', { x: 0x11, y: 0x20 })).toBe('R 1210, W 1110=11');
    expect(store('93 10', { x: 0x0e, y: 0x20 })).toBe('R 1210, W 0210=02');
  });

  it('drops the AND when a DMA halts the processor in the cycle before the store', () => {
    expect(store('9E F0 12', { x: 0xff, y: 1 }, 4)).toBe('R 12F1, W 12F1=FF');
    expect(store('93 10', { x: 0xff, y: 1 }, 4)).toBe('R 12F1, W 12F1=F3');
  });

  it('TAS puts A AND X into S', () => {
    expect(runOne(['0400 9B F0 12'], { a: 0xf3, x: 0x3c, y: 0 }).cpu.save().s).toBe(0x30);
  });
});
