import { describe, expect, it } from 'vitest';
import { OPCODES } from './opcodes.ts';

const cyclesOf = (opcode: number): string => {
  const { mnemonic, cycles } = OPCODES[opcode]!;
  return `${mnemonic} ${cycles}`;
};

describe('opcode table', () => {
  it('has 256 rows in order, 151 of them documented (published 6502 matrix)', () => {
    expect(OPCODES.map(({ opcode }) => opcode)).toEqual([...Array(256).keys()]);
    expect(OPCODES.filter(({ documented }) => documented)).toHaveLength(151);
    expect(new Set(OPCODES.filter(({ documented }) => documented).map(({ mnemonic }) => mnemonic)).size).toBe(56);
  });

  it('jams on twelve opcodes (wiki, "CPU unofficial opcodes")', () => {
    const jams = OPCODES.filter(({ mnemonic }) => mnemonic === 'JAM').map(({ opcode }) => opcode.toString(16));
    expect(jams.join(' ')).toBe('2 12 22 32 42 52 62 72 92 b2 d2 f2');
  });

  it('cycles of BRK, JSR, RTS, RTI, JMP (), ASL abs,X, SLO (zp,X) (open single-step vectors)', () => {
    const rows = [0x00, 0x20, 0x60, 0x40, 0x6c, 0x1e, 0x03].map(cyclesOf);
    expect(rows).toEqual(['BRK 7', 'JSR 6', 'RTS 6', 'RTI 6', 'JMP 5', 'ASL 7', 'SLO 8']);
  });

  it('adds a cycle on a page cross to indexed reads only', () => {
    for (const { mode, access, pageCross, opcode } of OPCODES) {
      const isIndexed = mode === 'absoluteX' || mode === 'absoluteY' || mode === 'indirectIndexed';
      expect([opcode, pageCross]).toEqual([opcode, isIndexed && access === 'read']);
    }
  });
});
