import { isLitAt } from '../../light-bit.ts';
import { countText } from '../../sentence.ts';
import { reactionPicture } from '../facts.ts';
import { field, type Intervention } from '../intervention.ts';
import type { Observation } from '../observation.ts';

/**
 * Lit and dark reads from the first picture that answers the trigger to the decision, and lit ones of this flash. What is
 * read before is read for the contact of the trigger.
 */
function readsOf(first: Observation): { lit: number; dark: number; litOfFlash: number } {
  const { reads, flips, ticks } = first.result;
  const from = reactionPicture(first)?.lineZeroTick ?? ticks.trigger;
  const looks = reads.filter((tick) => tick >= from);
  const lit = looks.filter((tick) => isLitAt(flips, tick));
  return {
    lit: lit.length,
    dark: looks.length - lit.length,
    litOfFlash: lit.filter((tick) => tick >= (ticks.crossing ?? Number.POSITIVE_INFINITY)).length,
  };
}

/** Reads that contradict what the program said: all of them dark, and it said a target, or all lit by this flash, and it said none. */
function contradictions(first: Observation): number {
  const { lit, dark, litOfFlash } = readsOf(first);
  switch (first.result.said.kind) {
    case 'target':
      return lit === 0 ? dark : 0;
    case 'none':
      return dark === 0 && lit === litOfFlash ? litOfFlash : 0;
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
        ? `The program said target ${said.target} after ${countText(count, 'read')} that saw no light and none that did`
        : `The program said none after ${countText(count, 'read')} that saw light of this flash and none that was dark`;
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
