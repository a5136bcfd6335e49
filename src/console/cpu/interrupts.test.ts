import { describe, expect, it } from 'vitest';
import { ScriptedBus } from '../../../test/console/scripted-bus.ts';
import type { CpuState } from './cpu-state.ts';

const START: CpuState = {
  ...{ a: 0, x: 0, y: 0, s: 0xfd, p: 0x20, pc: 0x8000, opcodePc: 0 },
  ...{ jammed: false, idleReads: 0, nmiLine: false, pending: 0, polled: 0 },
};
const MASKED = { p: 0x24 };

const from = (first: number) => (cycle: number) => cycle >= first;
const only = (wanted: number) => (cycle: number) => cycle === wanted;

interface Script {
  readonly program: string;
  readonly nmi?: (cycle: number) => boolean;
  readonly irq?: (cycle: number) => boolean;
  readonly registers?: Partial<CpuState>;
  /** Programs at $9000 (NMI) and $A000 (IRQ, BRK); NOPs by default. */
  readonly nmiHandler?: string;
  readonly irqHandler?: string;
  readonly pc?: number;
}

function prepare(script: Script): ScriptedBus {
  const bus = new ScriptedBus();
  const pc = script.pc ?? 0x8000;
  bus.memory.fill(0xea, 0x8000);
  bus.place(pc, script.program);
  bus.place(0x9000, script.nmiHandler ?? 'EA');
  bus.place(0xa000, script.irqHandler ?? 'EA');
  bus.place(0xfffa, '00 90 00 80 00 A0');
  if (script.nmi) bus.nmi = script.nmi;
  if (script.irq) bus.irq = script.irq;
  bus.cpu.load({ ...START, pc, ...script.registers });
  return bus;
}

/** Opcode fetches and served interrupts of the first `steps` steps, `8000 irq A000`. */
function flow(script: Script, steps = 4): string {
  const bus = prepare(script);
  for (let step = 0; step < steps; step++) bus.cpu.step();
  const events = bus.log.filter((entry) => !/^[RW]/.test(entry));
  return events.map((entry) => entry.replace('F ', '')).join(' ');
}

/** The status byte that the first interrupt or BRK pushed: the third write. */
const pushedStatusOf = (bus: ScriptedBus): string | undefined => bus.log.filter((entry) => entry.startsWith('W'))[2];

const eachCycle = (count: number, flowFrom: (cycle: number) => string): string[] =>
  Array.from({ length: count }, (_, cycle) => flowFrom(cycle));

describe('polling, wiki "CPU interrupts"', () => {
  it('decides by the lines at the end of the last cycle but one', () => {
    const program = 'AD 00 00 EA'; // LDA absolute, cycles 0 to 3
    const late = '8000 8003 irq A000';
    const soon = '8000 irq A000 A001';
    expect(eachCycle(4, (cycle) => flow({ program, irq: from(cycle) }))).toEqual([soon, soon, soon, late]);
    expect(eachCycle(4, (cycle) => flow({ program, nmi: from(cycle) }))).toEqual(
      [soon, soon, soon, late].map((text) => text.replaceAll('irq', 'nmi').replaceAll('A00', '900')),
    );
  });

  it('IRQ is a level: gone before the poll is gone; NMI is an edge: kept, and served once', () => {
    const program = 'AD 00 00 EA';
    expect(flow({ program, irq: only(1) })).toBe('8000 8003 8004 8005');
    expect(flow({ program, irq: only(2) })).toBe('8000 irq A000 A001');
    expect(flow({ program, irq: only(3) })).toBe('8000 8003 8004 8005');
    expect(flow({ program, nmi: only(0) })).toBe('8000 nmi 9000 9001');
    expect(flow({ program, nmi: only(3) })).toBe('8000 8003 nmi 9000');
    expect(flow({ program, nmi: from(0), nmiHandler: '40' }, 6)).toBe('8000 nmi 9000 8003 8004 8005');
  });

  it('an IRQ that stays asserted comes back after the handler', () => {
    expect(flow({ program: 'EA', irq: from(0), irqHandler: '40' }, 5)).toBe('8000 irq A000 irq A000');
  });

  it('NMI goes before IRQ, which stays pending', () => {
    const script = { program: 'EA', nmi: from(0), irq: from(0), nmiHandler: '40' };
    expect(flow(script, 6)).toBe('8000 nmi 9000 irq A000 A001');
  });

  it('the sequence takes 7 cycles and pushes PC and P with B clear', () => {
    const bus = prepare({ program: 'EA', irq: from(0) });
    bus.cpu.step();
    bus.cpu.step();
    expect(bus.log.slice(2).join(', ')).toBe('R 8001, R 8001, W 01FD=80, W 01FC=01, W 01FB=20, irq, R FFFE, R FFFF');
    expect(bus.cpu.save()).toMatchObject({ pc: 0xa000, p: 0x24, s: 0xfa, opcodePc: 0x8001 });
  });

  it('the sequence itself does not poll: one instruction of the handler always runs', () => {
    // NOP in cycles 0 and 1, IRQ sequence in cycles 2 to 8; an NMI in its first four cycles takes over.
    const flows = eachCycle(9, (cycle) => flow({ program: 'EA', irq: from(0), nmi: from(cycle) }));
    const takesOver = '8000 nmi 9000 9001';
    const waits = '8000 irq A000 nmi';
    expect(flows).toEqual([...Array(6).fill(takesOver), ...Array(3).fill(waits)]);
  });
});

describe('instructions that change I', () => {
  it('CLI with a pending IRQ: exactly one instruction first (interrupt test set 1)', () => {
    expect(flow({ program: '58 EA', irq: from(0), registers: MASKED })).toBe('8000 8001 irq A000');
  });

  it('CLI SEI with a pending IRQ: one IRQ, after the SEI, pushed I = 1 (interrupt test set 1)', () => {
    const script = { program: '58 78 EA', irq: from(0), registers: MASKED, irqHandler: '40' };
    expect(flow(script, 7)).toBe('8000 8001 irq A000 8002 8003 8004');
    const bus = prepare(script);
    for (let step = 0; step < 3; step++) bus.cpu.step();
    expect(pushedStatusOf(bus)).toBe('W 01FB=24');
  });

  it('PLP: the old I decides once more, both ways', () => {
    const program = '28 EA'; // pulls from $0100
    const stack = { s: 0xff };
    expect(flow({ program, irq: from(0), registers: { ...MASKED, ...stack } })).toBe('8000 8001 irq A000');
    const bus = prepare({ program, irq: from(2), registers: stack });
    bus.memory[0x100] = 0x04;
    for (let step = 0; step < 2; step++) bus.cpu.step();
    expect(bus.log.filter((entry) => entry === 'irq')).toHaveLength(1);
  });

  it('RTI restores I before its poll: the IRQ follows at once', () => {
    const registers = { ...MASKED, s: 0xf0 };
    const bus = prepare({ program: '40', irq: from(0), registers });
    bus.place(0x01f1, '20 10 80');
    bus.cpu.step();
    bus.cpu.step();
    expect(bus.log.join(', ')).toContain('R 01F3, R 8010, R 8010, W 01F3=80, W 01F2=10');
  });
});

describe('branches, wiki "CPU interrupts"', () => {
  const run = (program: string, pc: number, irq: (cycle: number) => boolean): string => flow({ program, pc, irq }, 3);

  it('not taken: polls before cycle 2', () => {
    const flows = eachCycle(2, (cycle) => run('F0 10', 0x8000, from(cycle)));
    expect(flows).toEqual(['8000 irq A000', '8000 8002 irq']);
  });

  it('taken in the page: an IRQ from its last but one or last cycle waits for one more instruction (interrupt test set 5)', () => {
    const flows = eachCycle(3, (cycle) => run('D0 10', 0x8000, from(cycle)));
    expect(flows).toEqual(['8000 irq A000', '8000 8012 irq', '8000 8012 irq']);
  });

  it('taken into another page: polls before cycle 2 and before cycle 4', () => {
    const flows = eachCycle(4, (cycle) => run('D0 20', 0x80f0, from(cycle)));
    expect(flows).toEqual(['80F0 irq A000', '80F0 irq A000', '80F0 irq A000', '80F0 8112 irq']);
    expect(run('D0 20', 0x80f0, only(0))).toBe('80F0 irq A000');
    expect(run('D0 20', 0x80f0, only(1))).toBe('80F0 8112 8113');
  });
});

describe('BRK', () => {
  it('an NMI in its cycles 1 to 4 takes $FFFA, pushed B = 1, the BRK is lost (interrupt test set 2)', () => {
    for (let cycle = 0; cycle < 7; cycle++) {
      const bus = prepare({ program: '00 EA', nmi: from(cycle) });
      for (let step = 0; step < 3; step++) bus.cpu.step();
      expect(pushedStatusOf(bus)).toBe('W 01FB=30');
      const flow = bus.log.filter((entry) => !/^[RW]/.test(entry)).join(' ');
      expect(flow).toBe(cycle < 4 ? 'F 8000 nmi F 9000 F 9001' : 'F 8000 F A000 nmi');
    }
  });

  it('an IRQ inside it changes nothing: same vector, B = 1', () => {
    const bus = prepare({ program: '00 EA', irq: from(1) });
    for (let step = 0; step < 3; step++) bus.cpu.step();
    expect(pushedStatusOf(bus)).toBe('W 01FB=30');
    expect(bus.log.filter((entry) => !/^[RW]/.test(entry)).join(' ')).toBe('F 8000 F A000 F A001');
  });
});

describe('latency, wiki "Consistent frame synchronization"', () => {
  /** Cycles from the flag (cycle 0) to the sequence, over every phase; `sampled` = the cycle that first sees the line. */
  const latencies = (program: string, period: number, sampled: number): number[] => {
    const found = Array.from({ length: period }, (_, phase) => {
      const flagCycle = 10 * period + phase;
      const bus = prepare({ program, nmi: from(flagCycle + sampled) });
      while (!bus.log.includes('nmi')) bus.cpu.step();
      return bus.cycle - 7 - flagCycle;
    });
    return [...new Set(found)].sort();
  };
  /** The flag may rise before or after the sampling point of its cycle. */
  const spread = (program: string, period: number): number[] =>
    [...new Set([...latencies(program, period, 0), ...latencies(program, period, 1)])].sort();

  it('run of NOPs: 2 to 4 cycles', () => expect(spread('EA', 2)).toEqual([2, 3, 4]));
  it('JMP to itself: 2 to 5 cycles', () => expect(spread('4C 00 80', 3)).toEqual([2, 3, 4, 5]));

  it('a line that falls in the last cycle of the store that enables it: NMI after the next instruction (vblank test set 04)', () => {
    expect(flow({ program: '8D 00 20 EA', nmi: from(3) })).toBe('8000 8003 nmi 9000');
  });
});

describe('DMA', () => {
  it('an IRQ anywhere in a sprite DMA is taken after the instruction that follows the $4014 store (interrupt test set, IRQ and DMA)', () => {
    // STA $4014 in cycles 0 to 3, held opcode fetch in cycles 4 to 516 (513 cycles) and 517, last cycle of the NOP 518.
    const flowFrom = (cycle: number): string => {
      const bus = prepare({ program: '8D 14 40 EA EA', irq: from(cycle) });
      bus.stall = (start) => (start === 4 ? 513 : 0);
      for (let step = 0; step < 4; step++) bus.cpu.step();
      return bus.log.filter((entry) => !/^[RW]/.test(entry)).join(' ');
    };
    expect(flowFrom(2)).toBe('F 8000 irq F A000 F A001');
    for (let cycle = 3; cycle <= 517; cycle++) expect(flowFrom(cycle)).toBe('F 8000 F 8003 irq F A000');
    expect(flowFrom(518)).toBe('F 8000 F 8003 F 8004 irq');
  });

  it('an NMI edge while the processor is held is not lost', () => {
    const bus = prepare({ program: 'EA EA', nmi: only(100) });
    bus.stall = (start) => (start === 0 ? 513 : 0);
    for (let step = 0; step < 3; step++) bus.cpu.step();
    expect(bus.log.filter((entry) => !/^[RW]/.test(entry)).join(' ')).toBe('F 8000 nmi F 9000');
  });
});

describe('jam', () => {
  it('reads the next byte twice, then $FFFF, $FFFE, $FFFE and $FFFF for ever (from memory)', () => {
    const bus = prepare({ program: '02' });
    for (let step = 0; step < 7; step++) bus.cpu.step();
    expect(bus.log.join(', ')).toBe('F 8000, R 8001, R 8001, R FFFF, R FFFE, R FFFE, R FFFF, R FFFF, R FFFF');
    expect(bus.cpu.save()).toMatchObject({ jammed: true, pc: 0x8000, opcodePc: 0x8000 });
  });

  it('no interrupt ends it, a reset does', () => {
    const bus = prepare({ program: '02', nmi: (cycle) => cycle % 2 === 0, irq: from(0) });
    for (let step = 0; step < 20; step++) bus.cpu.step();
    expect(bus.log.filter((entry) => /nmi|irq/.test(entry))).toEqual([]);
    bus.cpu.reset();
    expect(bus.cpu.save()).toMatchObject({ jammed: false, pc: 0x8000, p: 0x24 });
  });
});

describe('reset, wiki "CPU power up state"', () => {
  it('power-on: 7 cycles without a write, S = $FD, I set, PC from $FFFC', () => {
    const bus = new ScriptedBus();
    bus.place(0xfffc, '00 80');
    bus.cpu.reset();
    expect(bus.log.join(', ')).toBe('R 0000, R 0000, R 0100, R 01FF, R 01FE, R FFFC, R FFFD');
    expect(bus.cpu.save()).toMatchObject({ a: 0, x: 0, y: 0, s: 0xfd, p: 0x24, pc: 0x8000 });
  });

  it('later: A, X, Y and the other flags stay, S goes down by 3', () => {
    const bus = prepare({ program: 'EA', registers: { a: 1, x: 2, y: 3, s: 0x10, p: 0xe9 } });
    bus.cpu.reset();
    expect(bus.cpu.save()).toMatchObject({ a: 1, x: 2, y: 3, s: 0x0d, p: 0xed });
  });

  it('polls nothing and drops an NMI edge from before', () => {
    const bus = prepare({ program: 'EA', nmi: only(1), irq: from(0) });
    bus.cpu.step();
    bus.cpu.reset();
    bus.cpu.step();
    bus.cpu.step();
    expect(bus.log.filter((entry) => /nmi|irq/.test(entry))).toEqual([]);
  });
});
