import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { CpuBus } from '../../src/console/cpu/cpu-bus.ts';
import { ReferenceCpu } from '../../src/console/cpu/reference-cpu.ts';
import { OPCODES } from '../../src/references/opcodes.ts';
import { describeWith } from '../needs.ts';
import { EXIT, type GeneratedProgram, generateProgram, IMAGE_BYTES, isLeftOut } from './generated-program.ts';
import { sourceOf } from './program-lines.ts';

const PROGRAMS = 2000;
const FIRST_SEED = 1;
const ASSEMBLED = 10;
/** Executed instructions of a program that is taken. */
const SHORTEST = 50;
const LONGEST = 500;
const EXIT_JUMP_CYCLES = 3;

/** Header and map for a raw program of 8 KiB from $0000, as the outside counter loads it. */
const LINKER_SCRIPT = `
MEMORY   { HEADER: start = $0000, size = $000C, type = ro, file = %O;
           MAIN:   start = $0000, size = $${IMAGE_BYTES.toString(16)}, type = rw, file = %O; }
SEGMENTS { HEADER: load = HEADER, type = ro;  CODE: load = MAIN, type = rw; }
`;

class PlainBus implements CpuBus {
  readonly memory: Uint8Array;
  cycles = 0;

  constructor(image: Uint8Array) {
    // The outside counter's memory holds $FF where nothing was loaded (measured).
    this.memory = new Uint8Array(0x10000).fill(0xff);
    this.memory.set(image);
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
    this.memory[address] = value;
  }

  served(): void {}
}

interface Run {
  readonly cycles: number;
  /** A at the end: the exit status of the outside counter. */
  readonly a: number;
  readonly instructions: number;
}

/** How often each opcode ran, and with how many cycles: `BD 5`. */
type Coverage = Map<string, number>;

function runProgram({ image, start }: GeneratedProgram, coverage?: Coverage): Run {
  const bus = new PlainBus(image);
  const cpu = new ReferenceCpu(bus);
  cpu.load({ ...cpu.save(), s: 0, p: 0x20, pc: start });
  let instructions = 0;
  while (cpu.pc !== EXIT) {
    const before = bus.cycles;
    const opcode = bus.memory[cpu.pc]!;
    cpu.step();
    const key = `${opcode} ${bus.cycles - before}`;
    coverage?.set(key, (coverage.get(key) ?? 0) + 1);
    if (cpu.isJammed || ++instructions > 100_000) throw new Error('the generated program does not end');
  }
  return { cycles: bus.cycles - EXIT_JUMP_CYCLES, a: cpu.a, instructions };
}

/** The first programs, by seed, that assemble and run for the asked number of instructions. */
function selectPrograms(): GeneratedProgram[] {
  const programs: GeneratedProgram[] = [];
  for (let seed = FIRST_SEED; programs.length < PROGRAMS; seed++) {
    const program = generateProgram(seed);
    if (program === undefined) continue;
    const { instructions } = runProgram(program);
    if (instructions >= SHORTEST && instructions <= LONGEST) programs.push(program);
  }
  return programs;
}

/** The program file that the linker would write: signature, version, processor, load and start address, memory. */
function programFile({ image, start }: GeneratedProgram): Buffer {
  const header = Buffer.from('sim65\x02\x00\x00\x00\x00\x00\x00', 'latin1');
  header.writeUInt16LE(start, 10);
  return Buffer.concat([header, image]);
}

/** One process a program, started by one shell; `4 cycles` and its exit status for each. */
function countOutside(folder: string): { cycles: number; a: number }[] {
  const loop = `i=0; while [ $i -lt ${PROGRAMS} ]; do sim65 -c -x 1000000 $i.sim; echo "$?"; i=$((i+1)); done`;
  const output = execFileSync('sh', ['-c', loop], { cwd: folder, encoding: 'utf8', maxBuffer: 1 << 24 });
  return [...output.matchAll(/^(\d+) cycles\n(\d+)$/gm)].map(([, cycles, a]) => ({
    cycles: Number(cycles),
    a: Number(a),
  }));
}

function assemble(program: GeneratedProgram, folder: string): Buffer {
  writeFileSync(join(folder, 'program.s'), sourceOf(program.image, program.start, program.lines));
  writeFileSync(join(folder, 'program.cfg'), LINKER_SCRIPT);
  const commands = [
    ['ca65', '-o', 'program.o', 'program.s'],
    ['ld65', '-C', 'program.cfg', '-o', 'program.sim', 'program.o'],
  ] as const;
  for (const [tool, ...args] of commands) {
    const { status, stderr } = spawnSync(tool, args, { cwd: folder, encoding: 'utf8' });
    expect({ tool, status, stderr }).toEqual({ tool, status: 0, stderr: '' });
  }
  return readFileSync(join(folder, 'program.sim'));
}

describeWith(['ca65', 'ld65', 'sim65'], 'cycles of whole programs against an outside counter, sim65', () => {
  let folder = '';
  let programs: GeneratedProgram[] = [];

  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'latelight-cycles-'));
    programs = selectPrograms();
  });

  afterAll(() => rmSync(folder, { recursive: true }));

  it(`${ASSEMBLED} programs: the file written here is the one that ca65 and ld65 make`, () => {
    for (const program of programs.slice(0, ASSEMBLED)) {
      expect(assemble(program, folder).equals(programFile(program))).toBe(true);
    }
  });

  it(`${PROGRAMS} programs from seed ${FIRST_SEED}: equal cycles and equal A at the end`, () => {
    programs.forEach((program, i) => {
      writeFileSync(join(folder, `${i}.sim`), programFile(program));
    });
    const outside = countOutside(folder);
    const inside = programs.map((program) => runProgram(program));
    expect(outside).toEqual(inside.map(({ cycles, a }) => ({ cycles, a })));
  });

  it('the programs ran every documented opcode but SED, BRK and $3E, with each of its cycle counts', () => {
    const coverage: Coverage = new Map();
    for (const program of programs) runProgram(program, coverage);
    const missing = OPCODES.filter(({ documented, opcode }) => documented && !isLeftOut(opcode))
      .flatMap(({ opcode, cycles, pageCross, access }) => {
        const additions = access === 'branch' ? [0, 1, 2] : pageCross ? [0, 1] : [0];
        return additions.map((addition) => `${opcode} ${cycles + addition}`);
      })
      .filter((key) => (coverage.get(key) ?? 0) < 10);
    expect(missing).toEqual([]);
  });
});
