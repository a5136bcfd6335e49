/** What answers for the claimed pages. Cycles are absolute, counted from power-on; each call is one processor cycle. */
export interface FastCpuPorts {
  /**
   * The byte last on the data bus. The processor sets it to what its own accesses left there before `read` and `hold` and
   * at the end of `run`, and to `value` before `write`; `read` and `hold` leave in it what their accesses left.
   */
  dataBus: number;
  /** A read of a claimed page, dummy reads included. */
  read(address: number, cycle: number): number;
  /** A write to a claimed page. */
  write(address: number, value: number, cycle: number): void;
  /** An opcode fetch in a watched page; the read of its byte follows. Must change neither events nor pages. */
  fetched(address: number, cycle: number): void;
  /**
   * A DMA holds the read at `address` that would start in `cycle`: carry out its next cycles and tell
   * how many; 0 = it has ended. Among the cycles of one call only the first may move an interrupt line by its access;
   * edges known ahead may lie anywhere.
   */
  hold(address: number, cycle: number): number;
  /** An interrupt's vector has been chosen; its low byte is read in `cycle`. */
  served(kind: 'nmi' | 'irq', cycle: number): void;
}

/**
 * What the owner knows ahead. It sets the fields before `run` and inside `read`, `write` and `hold`; they count from the
 * cycle of that access on. Values are absolute cycles; Infinity = nothing in sight.
 */
export interface CpuEvents {
  /**
   * First cycle whose sample sees the NMI line asserted and not so in the cycle before. Past ones are forgotten. The
   * processor knows one edge at a time: the limit must not lie beyond the next one, nor an instruction or a DMA reach
   * from before the limit to it. A limit one cycle after this edge is always safe.
   */
  nmiCycle: number;
  /** First cycle whose sample sees the IRQ line asserted; it stays so until the owner changes this. */
  irqCycle: number;
  /** No instruction starts in this cycle or later. `run` sets it; an access may bring it nearer. */
  limitCycle: number;
  /**
   * The first read in this cycle or later is held by a DMA; the processor then sets Infinity and calls `hold`. A write may
   * ask for the next cycle, a read for one that is 8 or more ahead.
   */
  holdCycle: number;
}
