import { isLitAt } from '../../light-bit.ts';
import { frameTicks } from '../facts.ts';
import { field, type Intervention } from '../intervention.ts';
import type { Observation } from '../observation.ts';

/** Lit and dark reads in the last frame before the decision, and lit ones since the trigger. */
function readsOf(first: Observation): { lit: number; dark: number; litOfFlash: number } {
  const { reads, flips, ticks } = first.result;
  const end = ticks.decision ?? ticks.deadline;
  const lit = reads.filter((tick) => isLitAt(flips, tick));
  const last = reads.filter((tick) => tick > end - frameTicks(first));
  return {
    lit: last.filter((tick) => isLitAt(flips, tick)).length,
    dark: last.filter((tick) => !isLitAt(flips, tick)).length,
    litOfFlash: lit.filter((tick) => tick >= (ticks.crossing ?? Number.POSITIVE_INFINITY)).length,
  };
}

/** Reads of the last frame that contradict what the program said: all of them dark, and it said a target, or all lit by this
 * flash, and it said none. */
function contradictions(first: Observation): number {
  const { lit, dark, litOfFlash } = readsOf(first);
  switch (first.result.said.kind) {
    case 'target':
      return lit === 0 ? dark : 0;
    case 'none':
      return dark === 0 ? Math.min(lit, litOfFlash) : 0;
    default:
      return 0;
  }
}

/** Every read of the light bit answers the opposite. */
export const RIGHT_POLARITY: Intervention = {
  name: 'right polarity',
  title: 'every read of the light bit answers the opposite',
  evidence: contradictions,
  apply: (world) => ({ ...world, isInverted: !world.isInverted }),
  describe(first) {
    const { said } = first.result;
    const count = contradictions(first);
    const what =
      said.kind === 'target'
        ? `The program said target ${said.target} after ${count} reads in the last frame that saw no light and none that did`
        : `The program said none after ${count} reads in the last frame that saw light of this flash and none that was dark`;
    return {
      id: 'wrong-polarity',
      fields: {
        contradictingReads: field(count, 'reads'),
        ...(said.kind === 'target' ? { target: field(said.target, '') } : {}),
      },
      sentence: `${what}: it takes the light bit the wrong way round (0 means light).`,
      cure: {
        text: 'Turn the branch after the test of bit 3 round: the bit is 0 while the sensor sees light.',
        changes: [{ in: 'program', constant: 'light level of bit 3', to: 0, unit: '' }],
      },
    };
  },
};
