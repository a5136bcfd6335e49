import { expect, it } from 'vitest';
import { describeWith } from '../needs.ts';
import { assembleVsCa65 } from './assembler.ts';

describeWith(['ca65', 'ld65'], 'bench of the assembler', () => {
  it('times a large program beside ca65 and ld65', () => {
    const { name, value, bound, goal } = assembleVsCa65(1, 0);
    expect([name, bound, goal]).toEqual(['assemble_vs_ca65', 'max', 1]);
    expect(value).toBeGreaterThan(0);
  });
});
