import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { FastCpu } from '../../src/console/cpu/fast/fast-cpu.ts';
import type { FastCpuPorts } from '../../src/console/cpu/fast/fast-cpu-ports.ts';
import type { Figure } from './figure.ts';

const FOLDER = 'test/bench';
const HEADER_BYTES = 12;
/** A jump here ends the run under the outside counter, which does not count the jump's 3 cycles. */
const EXIT = 0xfff9;
const EXIT_JUMP_CYCLES = 3;
/** Cycles of a frame at 60 Hz, rounded: the slice in which a console runs. */
const SLICE_CYCLES = 29_781;
const RUNS = 7;

interface Run {
  readonly cycles: number;
  readonly wallMs: number;
}

/** Nothing is claimed; the first fetch at EXIT ends the run. */
class ExitPorts implements FastCpuPorts {
  dataBus = 0;
  exitCycle = Infinity;

  read(): number {
    return this.dataBus;
  }

  write(): void {}

  fetched(address: number, cycle: number): void {
    if (address === EXIT) this.exitCycle = Math.min(this.exitCycle, cycle);
  }

  hold(): number {
    return 0;
  }

  served(): void {}
}

/**
 * Speed of the fast processor against the outside counter sim65 (Debian cc65 2.19), on `processor.s`: median of the ratios
 * of neighbouring runs, after one warm-up. Needs ca65, ld65 and sim65, and the repository as the current folder.
 */
export function processorAgainstSim65(runs = RUNS): Figure {
  const folder = mkdtempSync(join(tmpdir(), 'latelight-bench-'));
  try {
    return { name: 'processor_vs_sim65', value: medianRatio(assemble(folder), runs), unit: 'x', bound: 'min', goal: 1 };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function assemble(folder: string): string {
  const object = join(folder, 'processor.o');
  const program = join(folder, 'processor.sim');
  runTool('ca65', '-o', object, `${FOLDER}/processor.s`);
  runTool('ld65', '-C', `${FOLDER}/processor.cfg`, '-o', program, object);
  return program;
}

function runTool(tool: 'ca65' | 'ld65' | 'sim65', ...args: readonly string[]): string {
  return execFileSync(tool, args, { encoding: 'utf8' });
}

function medianRatio(program: string, runs: number): number {
  const image = readFileSync(program);
  const ratios: number[] = [];
  for (let run = -1; run < runs; run++) {
    const outside = runOutside(program);
    const inside = runInside(image);
    if (inside.cycles !== outside.cycles) {
      throw new Error(`processor.s took ${inside.cycles} cycles here and ${outside.cycles} in sim65`);
    }
    if (run >= 0) ratios.push(outside.wallMs / inside.wallMs);
  }
  ratios.sort((a, b) => a - b);
  return ratios[runs >> 1]!;
}

function runOutside(program: string): Run {
  const start = performance.now();
  const output = runTool('sim65', '-c', program);
  return { cycles: Number.parseInt(output, 10), wallMs: performance.now() - start };
}

function runInside(image: Uint8Array): Run {
  const memory = new Uint8Array(0x10000).fill(0xff);
  const load = image[8]! | (image[9]! << 8);
  memory.set(image.subarray(HEADER_BYTES), load);
  memory.set([0x4c, EXIT & 0xff, EXIT >> 8], EXIT);
  const ports = new ExitPorts();
  const cpu = new FastCpu(memory, ports);
  for (let page = 0; page < 0x100; page++) cpu.pages.map(page, page * 0x100, page * 0x100);
  cpu.pages.watchFetches(EXIT >> 8, true);
  cpu.load({ ...cpu.save(false), s: 0xff, p: 0x20, pc: image[10]! | (image[11]! << 8) }, 0);
  const start = performance.now();
  while (ports.exitCycle === Infinity) cpu.run(cpu.cycle + SLICE_CYCLES);
  return { cycles: ports.exitCycle - EXIT_JUMP_CYCLES, wallMs: performance.now() - start };
}
