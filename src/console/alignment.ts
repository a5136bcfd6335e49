import { LatelightError } from '../errors/latelight-error.ts';
import type { Timing } from '../units/timing.ts';

/** Error: PARAM_RANGE unless the phase is a whole number of ticks within one processor cycle. */
export function checkAlignment(timing: Timing, phase: number): void {
  if (Number.isInteger(phase) && phase >= 0 && phase < timing.cpuDivider) return;
  throw new LatelightError('PARAM_RANGE', {
    name: 'alignment.cpuPhaseTicks',
    found: String(phase),
    allowed: `a whole number from 0 to ${timing.cpuDivider - 1}`,
  });
}
