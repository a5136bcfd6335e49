import { LatelightError } from '../../../errors/latelight-error.ts';

const PAGE_BYTES = 256;
const NOWHERE = -1;
/** Place of the stack in memory. */
const STACK = 0x100;
/** An instruction that starts before this byte of a page leaves the next instruction's opcode in the page, too. */
const EDGE_START = PAGE_BYTES - 3;

/**
 * Where in the processor's one memory array each of the 256 pages of its address space lies.
 *
 * A page has an offset for reading and one for writing, or -1: claimed, every access is a call of the owner. Mirrors and
 * banks are entries; a page whose writes change nothing is given 256 spare bytes. The processor's loop takes its
 * instructions from `fetchBase`, as long as they start before `fetchEnd` (a place in memory, -1 = look at each one).
 */
export class PageTable {
  readonly readBase = new Int32Array(PAGE_BYTES).fill(NOWHERE);
  readonly writeBase = new Int32Array(PAGE_BYTES).fill(NOWHERE);
  readonly fetchBase = new Int32Array(PAGE_BYTES).fill(NOWHERE);
  readonly fetchEnd = new Int32Array(PAGE_BYTES).fill(NOWHERE);
  /** Set by each change; whoever has copied an entry clears it. */
  isChanged = true;
  readonly #watched = new Uint8Array(PAGE_BYTES);
  readonly #memoryBytes: number;
  readonly #claimedWrites = new Int32Array(PAGE_BYTES);
  #claimedCount = 0;

  constructor(memoryBytes: number) {
    this.#memoryBytes = memoryBytes;
  }

  /**
   * Give a page its offsets: multiples of 256, or -1. The loop has the zero page and the stack at fixed places: their
   * read offset is 0 and 256 or they are claimed, and so is the stack's write offset. Error: PARAM_RANGE.
   */
  map(page: number, readOffset: number, writeOffset: number): void {
    this.#checkOffset(page, 'read', readOffset);
    this.#checkOffset(page, 'write', writeOffset);
    this.readBase[page] = readOffset;
    this.writeBase[page] = writeOffset;
    this.#setFetch(page);
    if (page > 0) this.#setFetch(page - 1);
    this.isChanged = true;
  }

  /** Whether the owner is told of every opcode fetch in this page. */
  watchFetches(page: number, isWatched: boolean): void {
    this.#watched[page] = isWatched ? 1 : 0;
    this.#setFetch(page);
    this.isChanged = true;
  }

  /** Let every write to pages 0 to `last` call out, until `releaseWrites`; `map` is for other pages meanwhile. */
  claimWrites(last: number): void {
    this.#claimedCount = last + 1;
    for (let page = 0; page <= last; page++) {
      this.#claimedWrites[page] = this.writeBase[page]!;
      this.writeBase[page] = NOWHERE;
    }
    this.isChanged = true;
  }

  /** Give the pages of `claimWrites` their offsets for writing back. */
  releaseWrites(): void {
    for (let page = 0; page < this.#claimedCount; page++) this.writeBase[page] = this.#claimedWrites[page]!;
    this.isChanged = true;
  }

  isWatched(page: number): boolean {
    return this.#watched[page] === 1;
  }

  /** Zero page and stack where the loop has them; the zero page's writes may be claimed. */
  get isLoopPossible(): boolean {
    const { readBase, writeBase } = this;
    return readBase[0] === 0 && readBase[1] === STACK && writeBase[1] === STACK;
  }

  /** Place in memory of an opcode that the loop may run; -1 = the reference processor runs it. */
  placeOfOpcode(pc: number): number {
    const page = pc >> 8;
    const base = this.fetchBase[page]!;
    const low = pc & 0xff;
    return base < 0 || (low >= EDGE_START && !this.#continues(page)) ? NOWHERE : base + low;
  }

  /** JSR in the stack page, or in a mirror of it, may push over its own operand: the loop leaves such pages alone. */
  #setFetch(page: number): void {
    const base = this.readBase[page] === STACK ? NOWHERE : this.readBase[page]!;
    this.fetchBase[page] = base;
    if (base < 0 || this.#watched[page] === 1) this.fetchEnd[page] = NOWHERE;
    else this.fetchEnd[page] = base + (this.#continues(page) ? PAGE_BYTES : EDGE_START);
  }

  /** The next page lies right behind this one in memory, too, and is not the stack. */
  #continues(page: number): boolean {
    const next = this.readBase[page]! + PAGE_BYTES;
    return page < 0xff && this.readBase[page + 1] === next && next !== STACK;
  }

  #checkOffset(page: number, access: string, offset: number): void {
    const isInside = offset >= 0 && offset + PAGE_BYTES <= this.#memoryBytes && offset % PAGE_BYTES === 0;
    if (offset === NOWHERE || (isInside && (page > 1 || offset === page * PAGE_BYTES))) return;
    const allowed = page > 1 ? `a multiple of 256 below ${this.#memoryBytes}` : String(page * PAGE_BYTES);
    throw new LatelightError('PARAM_RANGE', {
      name: `${access} offset of page ${page}`,
      found: offset,
      allowed: `-1 or ${allowed}`,
    });
  }
}
