import { hex } from '../../../units/hex.ts';
import { countText } from '../../sentence.ts';
import { endOf, ms, spanOf } from '../facts.ts';
import { type Finding, field, type Intervention } from '../intervention.ts';
import type { Observation } from '../observation.ts';

const PPUCTRL = 0x2000;
const NMI_ON = 0x80;

/** Vertical blanks between the trigger and the end of the shot in which no NMI was raised. */
function silentBlanks(first: Observation): number[] {
  const { vblankTicks, nmiTicks } = first.record;
  const frame = first.prepared.timing.cpuDivider * 4;
  const end = endOf(first);
  return vblankTicks.filter(
    (tick) =>
      tick > first.result.ticks.trigger && tick < end && !nmiTicks.some((nmi) => nmi >= tick && nmi <= tick + frame),
  );
}

/** Bit 7 of PPUCTRL is set before every vertical blank. */
export const KEEP_NMI: Intervention = {
  name: 'NMI kept on',
  title: 'an NMI is raised in every vertical blank',
  evidence: (first) => silentBlanks(first).length,
  apply: (world) => ({ ...world, keepsNmi: true }),
  describe(first) {
    const silent = silentBlanks(first);
    const { trigger } = first.result.ticks;
    const off = first.record.writes.filter(
      ({ tick, address, value }) => tick <= silent[0]! && address === PPUCTRL && (value & NMI_ON) === 0,
    );
    const last = off[off.length - 1];
    if (last === undefined) return offBefore(silent.length);
    const since = last.tick;
    const value = (last.value | NMI_ON) & 0xff;
    return {
      id: 'no-nmi',
      fields: { offAfterTrigger: ms(first, since - trigger), blanksWithoutNmi: field(silent.length, 'frames') },
      sentence: `From ${spanOf(first, Math.abs(since - trigger))} ${since < trigger ? 'before' : 'after'} the trigger on NMI was switched off: ${countText(silent.length, 'vertical blank')} passed without one, and the program waited for it.`,
      cure: {
        text: `Keep bit 7 of PPUCTRL set: write ${hex(value, 2)} instead of ${hex(last.value, 2)} to $2000.`,
        changes: [{ in: 'program', constant: 'PPUCTRL', to: value, unit: '' }],
      },
    };
  },
};

/** It was switched off before what is kept of the shot begins, a few frames before the trigger. */
function offBefore(blanks: number): Finding {
  return {
    id: 'no-nmi',
    fields: { blanksWithoutNmi: field(blanks, 'frames') },
    sentence: `NMI was off long before the trigger: ${countText(blanks, 'vertical blank')} passed without one, and the program waited for it.`,
    cure: {
      text: 'Set bit 7 of PPUCTRL ($2000) before the program waits, and keep it set.',
      changes: [{ in: 'program', constant: 'bit 7 of PPUCTRL', to: 1, unit: '' }],
    },
  };
}
