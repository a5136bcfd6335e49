import { ticksPerLine } from '../../../units/timing.ts';
import { countText } from '../../sentence.ts';
import { endOf, ms, spanOf } from '../facts.ts';
import { field, type Intervention } from '../intervention.ts';
import type { Observation } from '../observation.ts';

/** Registers that write the picture's memory: sprites, address, data. */
const MEMORY_REGISTERS = [0x2003, 0x2004, 0x2006, 0x2007];
/** Scanlines of the longer blank that are to spare. Our choice. */
const SPARE_LINES = 4;

/** From the vblank dot to the line in which the unit begins to draw again. Contract: 2,273 cycles at 60 Hz. Ticks. */
const blankTicks = ({ prepared: { timing } }: Observation): number =>
  (timing.preRenderLine - timing.vblankLine) * ticksPerLine(timing);

/** How far the latest access to the picture's memory lay behind the end of its vertical blank, ticks; 0 = none did. */
function latestExcess(first: Observation): number {
  const { vblankTicks, writes, dmaEnds } = first.record;
  const end = endOf(first);
  const blank = blankTicks(first);
  const accesses = [
    ...writes.filter(({ address }) => MEMORY_REGISTERS.includes(address)).map(({ tick }) => tick),
    ...dmaEnds,
  ];
  return accesses.reduce((most, tick) => {
    if (tick > end) return most;
    const vblank = lastAtOrBefore(vblankTicks, tick);
    return vblank === undefined ? most : Math.max(most, tick - vblank - blank);
  }, 0);
}

function lastAtOrBefore(ticks: readonly number[], tick: number): number | undefined {
  for (let i = ticks.length - 1; i >= 0; i--) if (ticks[i]! <= tick) return ticks[i];
  return undefined;
}

/** The vertical blank lasts as much longer as the handler needs. */
export const NMI_IN_TIME: Intervention = {
  name: 'NMI in time',
  title: "the vertical blank lasts until the handler's last write",
  evidence: latestExcess,
  apply(world, first) {
    const lines = Math.ceil(latestExcess(first) / ticksPerLine(world.timing)) + SPARE_LINES;
    const { linesPerFrame, preRenderLine } = world.timing;
    const timing = { ...world.timing, linesPerFrame: linesPerFrame + lines, preRenderLine: preRenderLine + lines };
    return { ...world, timing, isLightNew: true };
  },
  describe(first) {
    const excess = latestExcess(first);
    const cycles = Math.ceil(excess / first.prepared.timing.cpuDivider) + 1;
    const limit = Math.floor(blankTicks(first) / first.prepared.timing.cpuDivider);
    return {
      id: 'nmi-late',
      fields: {
        written: field(limit + cycles, 'cycles'),
        limit: field(limit, 'cycles'),
        excess: ms(first, excess),
        excessCycles: field(cycles, 'cycles'),
      },
      sentence: `The NMI handler wrote to the picture's memory up to ${countText(limit + cycles, 'cycle')} after the vertical blank began, and it ends after ${limit}: ${countText(cycles, 'cycle')} (${spanOf(first, excess)}) too late.`,
      cure: {
        text: `Make the handler at least ${countText(cycles, 'cycle')} shorter before its last write.`,
        changes: [{ in: 'program', constant: 'handler', by: -cycles, unit: 'cycles' }],
      },
    };
  },
};
