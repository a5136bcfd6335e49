import { hex } from '../../../units/hex.ts';
import { endOf, ms, spanOf } from '../facts.ts';
import { field, type Intervention } from '../intervention.ts';
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
    const since = last === undefined ? silent[0]! : last.tick;
    const value = ((last?.value ?? 0) | NMI_ON) & 0xff;
    return {
      id: 'no-nmi',
      fields: { offAfterTrigger: ms(first, since - trigger), blanksWithoutNmi: field(silent.length, 'frames') },
      sentence: `From ${spanOf(first, Math.abs(since - trigger))} ${since < trigger ? 'before' : 'after'} the trigger on NMI was switched off: ${silent.length} vertical blanks passed without one, and the program waited for it.`,
      cure: {
        text: `Keep bit 7 of PPUCTRL set: write ${hex(value, 2)} instead of ${hex(last?.value ?? 0, 2)} to $2000.`,
        changes: [{ in: 'program', constant: 'PPUCTRL', to: value, unit: '' }],
      },
    };
  },
};
