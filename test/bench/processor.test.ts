import { expect, it } from 'vitest';
import { describeWith } from '../needs.ts';
import { processorAgainstSim65 } from './processor.ts';

describeWith(['ca65', 'ld65', 'sim65'], 'bench of the fast processor', () => {
  it('takes as many cycles for processor.s as sim65 counts, else it throws', () => {
    expect(processorAgainstSim65(1)).toMatchObject({ name: 'processor_vs_sim65', value: expect.any(Number), goal: 1 });
  });
});
