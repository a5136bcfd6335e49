import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { assembleProgram } from '../../src/program/assembler/assembler.ts';
import { labelFileText } from '../../src/program/program-symbols.ts';
import { runCell } from '../../src/sweep/cell-run.ts';
import { DISK, openDocument } from './plans.ts';

const FOLDER = 'homebrew-demo/three-lanterns';
const NAME = 'three-lanterns';

describe('Three Lanterns: targets in records, said by a call', () => {
  const plan = JSON.parse(readFileSync(`${FOLDER}/sweep.json`, 'utf8'));
  const outcomes = (changes: object) => {
    const { passLimits: _, ...rest } = plan;
    const sweep = openDocument({ ...rest, n: 6, ...changes }, FOLDER);
    return Array.from({ length: sweep.cellCount }, (_, cell) => runCell(sweep, cell)).map(({ outcomes }) => outcomes);
  };

  test('goes through the same sweep by its scenario alone: on a tube every lantern is hit, the sky is not', () => {
    expect(outcomes({ delays: [0], panels: { tube: { kind: 'beam-tube' } } })).toEqual(['h6', 'h6', 'h6', 'n6']);
  });

  test('a screen a frame late makes it name the lantern below', () => {
    expect(outcomes({ delays: [16], panels: { tube: { kind: 'beam-tube' } } })).toEqual(['w6', 'w6', 'm6', 'n6']);
  });

  test('our assembler makes the image and labels that are checked in', () => {
    const { image, symbols } = assembleProgram(`${FOLDER}/${NAME}.s`, { readText: DISK.text, readBytes: DISK.bytes });
    expect(Buffer.from(image!).equals(readFileSync(`${FOLDER}/${NAME}.bin`))).toBe(true);
    expect(labelFileText(symbols)).toBe(readFileSync(`${FOLDER}/${NAME}.lbl`, 'utf8'));
  });
});
