import { describe, expect, it } from 'vitest';
import { ReferenceCpu } from '../../src/console/cpu/reference-cpu.ts';
import { follow, type KnownRegisters, NOTHING_KNOWN } from '../../src/program/assembler/constant-flow.ts';
import { OPCODES } from '../../src/references/opcodes.ts';
import { hashNoise } from '../../src/units/noise.ts';
import { PlainBus, randomRegisters } from './stretch-run.ts';

const RUNS = 60;
const START = 0x4000;

const flagsOf = (p: number): Pick<KnownRegisters, 'n' | 'z' | 'c' | 'v'> => ({
  n: p >> 7,
  z: (p >> 1) & 1,
  c: p & 1,
  v: (p >> 6) & 1,
});

describe('what is known of the registers, against the reference processor', () => {
  // Jumps, branches, BRK and JAM are followed elsewhere.
  const followed = OPCODES.filter(
    ({ access, mnemonic }) => access !== 'branch' && !['BRK', 'JAM', 'JMP', 'JSR', 'RTS', 'RTI'].includes(mnemonic),
  );

  it.each(
    followed.map(
      (spec) => [spec.opcode.toString(16).toUpperCase().padStart(2, '0'), spec.mnemonic, spec.mode, spec] as const,
    ),
  )('%s %s %s: never says what is not so', (_hex, _mnemonic, _mode, spec) => {
    for (let seed = 0; seed < RUNS; seed++) {
      const bus = new PlainBus(seed);
      const { a, x, y, p } = randomRegisters(seed);
      const hidden = Math.floor(hashNoise(seed, 6, 0) * 128);
      bus.memory[START] = spec.opcode;
      const operand = bus.memory[START + 1]!;
      const cpu = new ReferenceCpu(bus);
      cpu.load({ ...cpu.save(), a, x, y, p, s: 0x80, pc: START });
      cpu.step();
      const all = { a, x, y, ...flagsOf(p) };
      const known = Object.fromEntries(
        Object.entries(all).map(([part, value], i) => [part, (hidden >> i) & 1 ? -1 : value]),
      ) as unknown as KnownRegisters;
      const state = cpu.save();
      const after: KnownRegisters = { a: state.a, x: state.x, y: state.y, ...flagsOf(state.p) };
      const said = follow(spec, operand, known);
      for (const part of Object.keys(NOTHING_KNOWN) as (keyof KnownRegisters)[]) {
        if (said[part] !== -1) expect(said[part], `${part}, seed ${seed}`).toBe(after[part]);
      }
    }
  });

  it('a number that is loaded and counted down is known all the way', () => {
    const spec = (opcode: number) => OPCODES[opcode]!;
    let known = follow(spec(0xa2), 3, NOTHING_KNOWN);
    expect([known.x, known.z, known.n]).toEqual([3, 0, 0]);
    for (let i = 0; i < 3; i++) known = follow(spec(0xca), 0, known);
    expect([known.x, known.z, known.n, known.a]).toEqual([0, 1, 0, -1]);
  });
});
