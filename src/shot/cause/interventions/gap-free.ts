import { frameTicks, ms, spanOf } from '../facts.ts';
import { field, type Intervention } from '../intervention.ts';
import type { Observation } from '../observation.ts';

/** Light that came and went between two reads. */
interface UnseenLight {
  readonly readBefore: number;
  readonly on: number;
  readonly off: number;
  readonly readAfter: number;
}

/** Reads farther apart are no gap: the program was not looking. Frames; our choice: one look a frame is still looking. */
const LONGEST_GAP_FRAMES = 1.5;

/** Flip pairs that lie inside a gap between two reads of the shot; light from before its flash is none that it looks for. */
function unseenLights(first: Observation): UnseenLight[] {
  const { flips, reads, ticks } = first.result;
  const from = ticks.flashOnWire ?? ticks.trigger;
  const found: UnseenLight[] = [];
  for (let i = 0; i + 1 < reads.length; i++) {
    const [readBefore, readAfter] = [reads[i]!, reads[i + 1]!];
    for (let k = 0; k + 1 < flips.length; k += 2) {
      const [on, off] = [flips[k]!, flips[k + 1]!];
      if (on >= from && on > readBefore && off <= readAfter) found.push({ readBefore, on, off, readAfter });
      if (on > readAfter) break;
    }
  }
  return found;
}

/** That of this flash if it is among them, else the first. */
function theLight(first: Observation): UnseenLight {
  const all = unseenLights(first);
  return all.find(({ on }) => on === first.result.ticks.crossing) ?? all[0]!;
}

/** A read answers lit if the bit was lit at any time since the read before. */
export const GAP_FREE: Intervention = {
  name: 'gap-free reads',
  title: 'a read answers lit if the bit was lit at any time since the read before',
  evidence: (first) => unseenLights(first).length,
  apply: (world) => ({ ...world, isGapFree: true }),
  describe(first) {
    const light = theLight(first);
    const gap = light.readAfter - light.readBefore;
    return gap > LONGEST_GAP_FRAMES * frameTicks(first) ? lightGone(first, light) : pollGap(first, light);
  },
};

function pollGap(first: Observation, { readBefore, on, off, readAfter }: UnseenLight) {
  const [gap, lit] = [readAfter - readBefore, off - on];
  const periodUs = Math.floor((ms(first, lit).value * 1000) / 2);
  return {
    id: 'poll-gap' as const,
    fields: {
      lit: ms(first, lit),
      gap: ms(first, gap),
      before: ms(first, on - readBefore),
      after: ms(first, readAfter - off),
      period: field(periodUs, 'µs'),
    },
    sentence: `The light bit was lit for ${spanOf(first, lit)}, and two reads of the port lay ${spanOf(first, gap)} apart around it: the program looked ${spanOf(first, on - readBefore)} before and ${spanOf(first, readAfter - off)} after.`,
    cure: {
      text: `Read the port every ${periodUs} µs or faster while a box may be lit.`,
      changes: [{ in: 'program' as const, constant: 'poll period', to: periodUs, unit: 'µs' }],
    },
  };
}

function lightGone(first: Observation, { off, readAfter }: UnseenLight) {
  const late = readAfter - off;
  const frames = Math.ceil(late / frameTicks(first));
  const wire = first.result.ticks.flashOnWire ?? first.result.ticks.trigger;
  return {
    id: 'light-gone' as const,
    fields: {
      gone: ms(first, off - wire),
      firstLook: ms(first, readAfter - wire),
      late: ms(first, late),
      frames: field(frames, 'frames'),
    },
    sentence: `Light from this flash was gone ${spanOf(first, off - wire)} after its line left the console; the program's first look was ${spanOf(first, readAfter - wire)} after: ${spanOf(first, late)} too late.`,
    cure: {
      text: `Begin to look at least ${spanOf(first, late)} sooner: ${frames} frame${frames === 1 ? '' : 's'}.`,
      changes: [{ in: 'program' as const, constant: 'frames before the look', by: -frames, unit: 'frames' }],
    },
  };
}
