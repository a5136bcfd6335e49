/**
 * What the owner of claimed pages can tell of reads that repeat, so that a waiting loop can be skipped exactly.
 * Cycles are absolute, counted from power-on.
 */
export interface SteadyPorts {
  /** Whether somebody wants to be told of the opcode fetch at this address of a watched page. */
  isFetchTold(address: number): boolean;
  /**
   * The byte that a read of this claimed address in `cycle` gives, `dataBus` being the byte on the bus before it; -1 = it
   * cannot be said ahead. Changes nothing that could be seen. The processor will come to this read without any event.
   */
  steadyRead(address: number, dataBus: number, cycle: number): number;
  /**
   * Of the latest `steadyRead` that has said a byte: the first cycle in which the read may give another one, or do more
   * than the read before it has done, if nothing else than such reads happens.
   */
  readonly steadyUntil: number;
  /** Carry out `count` reads that gave `value`: the first in `cycle`, each `step` cycles after the one before. */
  readSteadily(address: number, value: number, cycle: number, step: number, count: number): void;
}
