import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { assembleProgram } from '../../src/program/assembler/assembler.ts';
import { CONDITION_NAMES } from '../../src/program/assembler/conditions.ts';
import { DATA_COMMANDS } from '../../src/program/assembler/data-commands.ts';
import { FUNCTION_NAMES } from '../../src/program/assembler/expression-parser.ts';
import { MACRO_COMMANDS } from '../../src/program/assembler/macro-commands.ts';
import { SYMBOL_COMMANDS } from '../../src/program/assembler/symbol-commands.ts';
import { OPCODES } from '../../src/references/opcodes.ts';
import { diskFiles } from './disk-files.ts';

/** What the corpus covers; that ca65 and ld65 make the same of it is in programs.test.ts. */
const FOLDER = 'test/assembler/corpus';
const TEXTS = readdirSync(FOLDER, { recursive: true, encoding: 'utf8' })
  .filter((name) => /\.(s|inc)$/.test(name))
  .map((name) => readFileSync(join(FOLDER, name), 'utf8').replace(/;.*$/gm, ''));

/**
 * Opcodes that ca65 cannot name, because another one with the same mnemonic and form comes first: doubled JAM, NOP, ANC
 * and SBC. Source: ca65 2.19, by experiment.
 */
// biome-ignore format: one row a mnemonic
const UNNAMED = [
  0x12, 0x22, 0x32, 0x42, 0x52, 0x62, 0x72, 0x92, 0xb2, 0xd2, 0xf2,
  0x1a, 0x3a, 0x5a, 0x7a, 0xda, 0xfa, 0x44, 0x64, 0x34, 0x54, 0x74, 0xd4, 0xf4, 0x3c, 0x5c, 0x7c, 0xdc, 0xfc, 0x82, 0x89, 0xc2, 0xe2,
  0x2b,
  0xeb,
];

describe('the corpus', () => {
  it('has every opcode that can be named', () => {
    const { listing, errors } = assembleProgram('opcodes.s', diskFiles(FOLDER));
    expect(errors).toEqual([]);
    const named = new Set(listing.filter(({ cycles }) => cycles !== '').map(({ bytes }) => bytes[0]!));
    const missing = OPCODES.map(({ opcode }) => opcode).filter((opcode) => !named.has(opcode));
    expect(missing.sort((a, b) => a - b)).toEqual([...UNNAMED].sort((a, b) => a - b));
  });

  it('each opcode that cannot be named does the same as one that can', () => {
    for (const opcode of UNNAMED) {
      const { mnemonic, mode } = OPCODES[opcode]!;
      const twin = OPCODES.find(
        (spec) => spec.mnemonic === mnemonic && spec.mode === mode && !UNNAMED.includes(spec.opcode),
      );
      expect(twin, `$${opcode.toString(16)}`).toBeDefined();
    }
  });

  const words = new Set(TEXTS.flatMap((text) => text.toLowerCase().match(/\.[a-z]\w*/g) ?? []));
  const commands = [DATA_COMMANDS, SYMBOL_COMMANDS, MACRO_COMMANDS].flatMap((table) => Object.keys(table));

  it.each([...commands, ...CONDITION_NAMES, ...FUNCTION_NAMES, '.set'])('has %s', (name) => {
    expect(words.has(name)).toBe(true);
  });

  // biome-ignore format: one row a level
  const operators = ['*', '/', '.mod', '&', '.bitand', '^', '.bitxor', '<<', '.shl', '>>', '.shr',
    '+', '-', '|', '.bitor',
    '=', '<>', '<', '>', '<=', '>=',
    '&&', '.and', '.xor',
    '||', '.or'];

  it('has every binary operator beside every other', () => {
    const pairs = new Set(
      TEXTS.flatMap((text) => [...text.matchAll(/\(13 (\S+) 5 (\S+) 3\)/g)].map(([, a, b]) => `${a} ${b}`)),
    );
    const missing = operators.flatMap((a) => operators.map((b) => `${a} ${b}`)).filter((pair) => !pairs.has(pair));
    expect(missing).toEqual([]);
  });

  it.each(['-', '+', '~', '.bitnot', '<', '>', '^'])('has %s before and behind every binary operator', (sign) => {
    const all = TEXTS.join('\n');
    const missing = operators.filter((operator) => !all.includes(` 3) & $FFFFFF, (13 ${operator} ${sign} `));
    expect(missing).toEqual([]);
  });
});
