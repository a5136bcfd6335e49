/**
 * The processor's side of the bus. Each `fetch`, `read` and `write` is exactly one processor cycle; the bus advances
 * everything else to the start of that cycle before it answers, and reports the cycle's end through
 * `ReferenceCpu.endCycle` (also for cycles in which a DMA holds the processor).
 */
export interface CpuBus {
  /** Read an opcode (the first cycle of an instruction). */
  fetch(address: number): number;
  /** Any other read, dummy reads included. */
  read(address: number): number;
  write(address: number, value: number): void;
  /** An interrupt's vector has been chosen; called just before its low byte is read. */
  served(kind: 'nmi' | 'irq'): void;
}
