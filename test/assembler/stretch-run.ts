import type { CpuBus } from '../../src/console/cpu/cpu-bus.ts';
import { ReferenceCpu } from '../../src/console/cpu/reference-cpu.ts';
import type { CycleStretch } from '../../src/program/assembler/assembler.ts';
import { OPCODES, OPERAND_BYTES } from '../../src/references/opcodes.ts';
import { hashNoise } from '../../src/units/noise.ts';

const PROGRAM = 0x8000;
const STACK_TOP = 0xf0;
const MOST_STEPS = 100_000;
/** Source: hardware documentation wiki, page "DMA": 513 cycles, one more when the write falls on a put cycle. */
const SPRITE_DMA = { register: 0x4014, cycles: 513 };

const noise = new Map<number, Uint8Array>();

/** 64 KiB of noise, the same for the same seed. */
function noiseMemory(seed: number): Uint8Array {
  const known =
    noise.get(seed) ?? Uint8Array.from({ length: 0x10000 }, (_, i) => Math.floor(hashNoise(seed, 3, i) * 256));
  noise.set(seed, known);
  return known.slice();
}

/** Memory without anything behind it: noise below the program. The sprite DMA holds the processor as the console does. */
export class PlainBus implements CpuBus {
  readonly memory: Uint8Array;
  cycles = 0;
  readonly #isPut: number;

  constructor(seed: number) {
    this.memory = noiseMemory(seed);
    this.#isPut = seed & 1;
  }

  fetch(address: number): number {
    return this.read(address);
  }

  read(address: number): number {
    this.cycles++;
    return this.memory[address]!;
  }

  write(address: number, value: number): void {
    this.cycles++;
    if (address < PROGRAM) this.memory[address] = value;
    if (address === SPRITE_DMA.register) this.cycles += SPRITE_DMA.cycles + ((this.cycles + this.#isPut) & 1);
  }

  served(): void {}
}

/** Random registers: A, X, Y and the flags, decimal mode off. */
export function randomRegisters(seed: number): { a: number; x: number; y: number; p: number } {
  const [a, x, y, p] = [0, 1, 2, 3].map((i) => Math.floor(hashNoise(seed, 4, i) * 256)) as [
    number,
    number,
    number,
    number,
  ];
  return { a, x, y, p: (p & 0xf7) | 0x20 };
}

/**
 * Run a noted stretch once with random registers and memory. Its cycles; undefined when the way left the stretch before
 * its end, which the note does not speak of. `flags` = bytes of the zero page from 0 on that are zero in every second run,
 * so that both ways of their branches are gone.
 */
export function runStretch(image: Uint8Array, stretch: CycleStretch, seed: number, flags = 1): number | undefined {
  const { start, end, isRound } = stretch;
  const bus = new PlainBus(seed);
  for (let i = 0; i < flags; i++) if (hashNoise(seed, 5, i) < 0.5) bus.memory[i] = 0;
  bus.memory.set(image.subarray(16, 16 + 0x8000), PROGRAM);
  const cpu = new ReferenceCpu(bus);
  cpu.load({ ...cpu.save(), ...randomRegisters(seed), s: STACK_TOP, pc: start });
  let depth = 0;
  for (let steps = 0; steps < MOST_STEPS; steps++) {
    const last = cpu.pc;
    const { mnemonic } = OPCODES[bus.memory[last]!]!;
    if (mnemonic === 'JSR') depth++;
    if (mnemonic === 'RTS') depth--;
    cpu.step();
    const isReturn = depth < 0 || mnemonic === 'RTI'; // To an address from the random stack, which may lie anywhere.
    const isInside = !isReturn && (depth > 0 || (cpu.pc > start && cpu.pc < end));
    if (!isInside) return hasArrived(bus, last, cpu.pc, isRound ? start : end, end) ? bus.cycles : undefined;
  }
  throw new Error(`no end of the stretch at ${start.toString(16)} after ${MOST_STEPS} instructions`);
}

/** At the end, or gone by a jump or a return that is the last instruction. */
function hasArrived({ memory }: PlainBus, last: number, pc: number, goal: number, end: number): boolean {
  const { mode, access } = OPCODES[memory[last]!]!;
  return pc === goal || (access === 'sequence' && last + 1 + OPERAND_BYTES[mode] === end);
}
