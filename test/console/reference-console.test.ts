import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { TimingId } from '../../src/units/timing.ts';
import { eventsOf, machineWith, programOf } from './machine.ts';

const WAIT_WARM = [0x2c, 0x02, 0x20, 0x10, 0xfb, 0x2c, 0x02, 0x20, 0x10, 0xfb]; // bit $2002 / bpl twice
const NMI_ON = [0xa9, 0x80, 0x8d, 0x00, 0x20]; // lda #$80 / sta $2000

describe('time of a program between NMIs (hardware documentation wiki, "Detect TV system")', () => {
  // The published counts belong to a routine with its own set-up and handler: three rounds of tolerance.
  test.each<[TimingId, number]>([
    ['60hz', 2707],
    ['50hz', 3022],
    ['50hz-clone', 3224],
  ])('%s: an 11-cycle loop counts about %i rounds from NMI to NMI', (timing, expected) => {
    const wait = [0xa5, 0x20, 0xf0, 0xfc]; // lda $20 / beq
    const clear = [0xa9, 0, 0x85, 0x20, 0xaa, 0xa8]; // lda #0 / sta $20 / tax / tay
    const count = [0xe8, 0xd0, 0x01, 0xc8, 0xa5, 0x20, 0xf0, 0xf8]; // inx 2 / bne 3 / iny / lda $20 3 / beq 3
    const keep = [0x86, 0x10, 0x84, 0x11, 0x4c, 0x40, 0x80]; // stx $10 / sty $11 / and stay
    const code = [...WAIT_WARM, ...NMI_ON, ...wait, ...clear, ...wait, ...clear, ...count, ...keep];
    const image = programOf({ 32768: code, 32832: [0x4c, 0x40, 0x80], 65280: [0xe6, 0x20, 0x40] }, { nmi: 0xff00 });
    const { console, runToCycle } = machineWith(image, { timing });
    runToCycle(220_000);
    expect(Math.abs(console.peek(0x10) + 256 * console.peek(0x11) - expected)).toBeLessThanOrEqual(3);
  });
});

describe('power-up (hardware documentation wiki, "PPU power up state")', () => {
  test('the vblank flag is first seen at about cycle 27,384, and 29,781 cycles later', () => {
    const image = programOf({ 32768: [0x2c, 0x02, 0x20, 0x10, 0xfb, 0x85, 0x00, 0x4c, 0x00, 0x80] }, {});
    const { events, runToCycle } = machineWith(image, { request: { writes: [0] } });
    runToCycle(90_000);
    const seen = eventsOf(events, 'write').map(({ tick }) => tick / 12);
    expect(Math.abs(seen[0]! - 27_384)).toBeLessThan(16); // a loop of 7 cycles, and the store after it
    expect(Math.abs(seen[1]! - seen[0]! - 29_781)).toBeLessThanOrEqual(8);
  });

  test('on the clone an 8-cycle wait loop of the right phase misses the flag in every frame: 35,464 = 8 x 4,433', () => {
    // bit $2002 takes 4 cycles, the branch back 3 and a fourth because it leaves the page.
    const code = [0x2c, 0x02, 0x20, 0x10, 0xfb, 0x85, 0x00, 0x4c, 0xfd, 0x80];
    const hits = [0, 1, 2, 3, 4, 5, 6, 7].map((delay) => {
      const image = programOf({ 32768: [...pad(delay), 0x4c, 0xfd, 0x80], 33021: code }, {});
      const { events, runToCycle } = machineWith(image, { timing: '50hz-clone', request: { writes: [0] } });
      runToCycle(35_464 * 8);
      return eventsOf(events, 'write').length;
    });
    expect(hits).toContain(0);
    expect(Math.max(...hits)).toBeGreaterThanOrEqual(7);
  });
});

/** Filler of n cycles modulo 8: two-cycle NOPs, and one three-cycle `lda zp` for odd n (n = 1 becomes 9). */
function pad(n: number): number[] {
  if (n === 0) return [];
  if (n % 2 === 0) return Array<number>(n / 2).fill(0xea);
  return n === 1 ? [0xa5, 0, ...Array<number>(3).fill(0xea)] : [0xa5, 0, ...Array<number>((n - 3) / 2).fill(0xea)];
}

describe('NMI (hardware documentation wiki, "Consistent frame synchronization")', () => {
  const served = (spin: readonly number[], address: number): number[] => {
    const image = programOf(
      { 32768: [...WAIT_WARM, ...NMI_ON, 0x4c, address & 0xff, address >> 8], [address]: spin, 65280: [0x40] },
      { nmi: 0xff00 },
    );
    const { events, runToCycle } = machineWith(image);
    runToCycle(29_781 * 40);
    const flags = eventsOf(events, 'nmi-raised').map(({ tick }) => tick);
    const starts = eventsOf(events, 'nmi-served').map(({ tick }) => tick - 5 * 12); // the vector is the sixth cycle
    return starts.map((start) => Math.ceil((start - flags.filter((flag) => flag <= start).pop()!) / 12));
  };
  test('in a run of NOPs the sequence starts 2 to 4 cycles after the flag', () => {
    const delays = served([...Array<number>(200).fill(0xea), 0x4c, 0x00, 0x90], 0x9000).slice(1);
    expect(Math.min(...delays)).toBeGreaterThanOrEqual(2);
    expect(Math.max(...delays)).toBeLessThanOrEqual(4);
  });
  test('in JMP to itself 2 to 5', () => {
    const delays = served([0x4c, 0x00, 0x90], 0x9000).slice(1);
    expect(Math.min(...delays)).toBeGreaterThanOrEqual(2);
    expect(Math.max(...delays)).toBeLessThanOrEqual(5);
  });
});

describe('ports and open bus', () => {
  const portProgram = [0xad, 0x16, 0x40, 0x85, 0x00, 0xad, 0x17, 0x40, 0x85, 0x01, 0x4c, 0x00, 0x80];
  const read = (devices: Parameters<typeof machineWith>[1]): number[] => {
    const { console, runToCycle } = machineWith(programOf({ 32768: portProgram }, {}), devices);
    runToCycle(60);
    return [console.peek(0), console.peek(1)];
  };
  test('absolute reads of empty ports give $40 (hardware documentation wiki, "Controller reading")', () =>
    expect(read({})).toEqual([0x40, 0x40]));
  test.each([
    [1, true, 0x50],
    [1, false, 0x40],
    [0, true, 0x58],
    [0, false, 0x48],
  ] as const)('light %i, contact closed %s reads $%i on either port', (light, isClosed, expected) => {
    const surroundings = { readLight: () => light, isTriggerClosed: () => isClosed };
    expect(read({ devices: ['light sensor', 'light sensor'], surroundings })).toEqual([expected, expected]);
  });

  test('LDA ($04),Y over open bus reads twice and gives $73 (hardware documentation wiki, "Open bus behavior")', () => {
    // pointer $53FA, Y = $31: $532B then $542B; both hold the last byte on the bus, the pointer's high byte
    const image = programOf(
      { 32768: [0xa9, 0xfa, 0x85, 0x04, 0xa9, 0x53, 0x85, 0x05, 0xa0, 0x31, 0xb1, 0x04, 0x85, 0x00, 0x4c, 0x0e, 0x80] },
      {},
    );
    const { console, events, runToCycle } = machineWith(image, { request: { reads: [0x532b, 0x542b] } });
    runToCycle(60);
    expect(eventsOf(events, 'read').map(({ address, value }) => [address, value])).toEqual([
      [0x532b, 0x53],
      [0x542b, 0x53],
    ]);
    expect(console.peek(0)).toBe(0x53);
  });

  test('a pad sends A B Select Start Up Down Left Right, then ones; neighbouring reads are one shift', () => {
    // strobe, then 9 reads shifted into $10..: lda #1 sta $4016 lsr sta $4016, ldx #0: lda $4016 / and #1 / sta $10,x / inx / cpx #10 / bne
    const code = [
      0xa9, 1, 0x8d, 0x16, 0x40, 0x4a, 0x8d, 0x16, 0x40, 0xa2, 0, 0xad, 0x16, 0x40, 0x29, 1, 0x95, 0x10, 0xe8, 0xe0, 10,
      0xd0, 0xf4, 0x4c, 0x17, 0x80,
    ];
    const { console, runToCycle } = machineWith(programOf({ 32768: code }, {}), {
      devices: ['pad', 'none'],
      surroundings: { buttons: () => 0b1001_0110 },
    });
    runToCycle(400);
    expect(Array.from({ length: 10 }, (_, i) => console.peek(0x10 + i))).toEqual([0, 1, 1, 0, 1, 0, 0, 1, 1, 1]);
  });
});

describe('sprite DMA (hardware documentation wiki, "DMA")', () => {
  // An odd or even number of cycles before the write; then the cycle of the next write is measured.
  test.each([0, 1] as const)('513 cycles after a write in a get cycle, 514 in a put cycle (parity %i)', (putParity) => {
    const lengths = [0, 3].map((extra) => {
      const code = [...pad(extra), 0xa9, 0x02, 0x85, 0x00, 0x8d, 0x14, 0x40, 0x85, 0x01, 0x4c, 0x20, 0x80];
      const { events, runToCycle } = machineWith(programOf({ 32768: code }, {}), {
        alignment: { putParity },
        request: { writes: [0x4014, 1] },
      });
      runToCycle(700);
      const [start, end] = eventsOf(events, 'write').map(({ tick }) => tick / 12);
      const isGet = start! % 2 === putParity;
      return [isGet, end! - start! - 3]; // the 3 cycles of sta $01
    });
    expect(lengths).toEqual(
      expect.arrayContaining([
        [true, 513],
        [false, 514],
      ]),
    );
  });

  test('it carries the page into sprite memory and reports its span', () => {
    const { events, runToCycle } = machineWith(
      programOf({ 32768: [0xa9, 0x02, 0x8d, 0x14, 0x40, 0x4c, 0x05, 0x80] }, {}),
    );
    runToCycle(700);
    const [dma] = eventsOf(events, 'dma');
    expect((dma!.endTick - dma!.tick) / 12).toBeGreaterThanOrEqual(513);
  });
});

describe('cuts', () => {
  const busy = programOf(
    {
      32768: [
        ...WAIT_WARM,
        0xa9,
        0x1e,
        0x8d,
        0x01,
        0x20,
        ...NMI_ON,
        0xe8,
        0x9d,
        0x00,
        0x03,
        0xad,
        0x17,
        0x40,
        0x8d,
        0x05,
        0x20,
        0x4c,
        0x14,
        0x80,
      ],
      65280: [0xa9, 0x02, 0x8d, 0x14, 0x40, 0xe6, 0x20, 0x40],
    },
    { nmi: 0xff00 },
  );
  const setting = {
    devices: ['none', 'light sensor'] as const,
    surroundings: { readLight: (_: 1 | 2, tick: number): 0 | 1 => (tick % 7 < 3 ? 1 : 0) },
  };
  const END = 357_366 * 6;
  const whole = machineWith(busy, setting);
  whole.console.runUntil(END);

  test('cutting runUntil at random ticks changes nothing', () => {
    fc.assert(
      fc.property(fc.array(fc.nat(END), { maxLength: 20 }), (cuts) => {
        const machine = machineWith(busy, setting);
        for (const cut of cuts.sort((a, b) => a - b)) machine.console.runUntil(cut);
        machine.console.runUntil(END);
        expect(machine.console.save()).toEqual(whole.console.save());
        expect(machine.events).toEqual(whole.events);
      }),
      { numRuns: 10, seed: 5 },
    );
  });

  test('load(save()) goes on identically, also in a console that has seen other light', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: END }), (cut) => {
        const first = machineWith(busy, setting);
        first.console.runUntil(cut);
        const saved = structuredClone(first.console.save());
        let isBlind = true;
        const readLight = (port: 1 | 2, tick: number): 0 | 1 =>
          isBlind ? 0 : setting.surroundings.readLight(port, tick);
        const second = machineWith(busy, { ...setting, surroundings: { readLight } });
        second.console.runUntil(cut);
        second.console.load(saved);
        isBlind = false;
        second.console.runUntil(END);
        expect(second.console.save()).toEqual(whole.console.save());
      }),
      { numRuns: 10, seed: 6 },
    );
  });
});
