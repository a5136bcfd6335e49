import { LatelightError } from '../../errors/latelight-error.ts';
import type { CpuCore } from './cpu-core.ts';
import { FLAG_1, FLAG_B } from './flags.ts';

/** The processor between two steps, as plain data. */
export interface CpuState {
  readonly a: number;
  readonly x: number;
  readonly y: number;
  readonly s: number;
  /** Bit 5 set, bit 4 clear: neither is storage. */
  readonly p: number;
  readonly pc: number;
  /** Address of the opcode of the instruction in progress; after an interrupt, of the instruction that it displaced. */
  readonly opcodePc: number;
  readonly jammed: boolean;
  /** Idle reads since the jam, counted to 3 only. */
  readonly idleReads: number;
  /** The NMI line at the end of the last cycle, true = asserted. */
  readonly nmiLine: boolean;
  /** Bit 0: NMI edge latched and not served; bit 1: IRQ asserted and not masked at the end of the last cycle. */
  readonly pending: number;
  /** `pending` as the last instruction polled it: an interrupt comes next if it is not 0. */
  readonly polled: number;
}

/** Largest value of each whole-number field. */
const LIMITS = {
  a: 0xff,
  x: 0xff,
  y: 0xff,
  s: 0xff,
  p: 0xff,
  pc: 0xffff,
  opcodePc: 0xffff,
  idleReads: 3,
  pending: 3,
  polled: 3,
} as const;

export function saveState(cpu: CpuCore): CpuState {
  const { a, x, y, s, p, pc, opcodePc, isJammed, idleReads, nmiLine, pending, polled } = cpu;
  return { a, x, y, s, p, pc, opcodePc, jammed: isJammed, idleReads, nmiLine, pending, polled };
}

/** Error: PARAM_RANGE names the field that is not a whole number within its range; the processor then stays as it was. */
export function loadState(cpu: CpuCore, state: CpuState): void {
  for (const [name, limit] of Object.entries(LIMITS) as [keyof typeof LIMITS, number][]) {
    requireWhole(name, state[name], limit);
  }
  const { a, x, y, s, p, pc, opcodePc, jammed, idleReads, nmiLine, pending, polled } = state;
  Object.assign(cpu, { a, x, y, s, pc, opcodePc, isJammed: jammed, idleReads, nmiLine, pending, polled });
  cpu.p = (p & ~FLAG_B) | FLAG_1;
}

function requireWhole(name: string, found: number, limit: number): void {
  if (Number.isInteger(found) && found >= 0 && found <= limit) return;
  throw new LatelightError('PARAM_RANGE', { name: `cpu.${name}`, found, allowed: `a whole number, 0 to ${limit}` });
}
