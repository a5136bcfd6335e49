/**
 * What the console sees of a cartridge. The circuit's state is plain data inside `save()`.
 *
 * Most accesses go through the page table: `pageOffset(page)` says where in `program` or `work` the page's 256 bytes
 * lie. Pages that the circuit answers itself are claimed and come through `read` and `write`.
 */
export interface Slot {
  /** Program ROM, work RAM and pattern memory (ROM or RAM) of the cartridge, in bytes. */
  readonly program: Uint8Array;
  readonly work: Uint8Array;
  readonly pattern: Uint8Array;
  readonly isPatternWritable: boolean;

  /** 256 flags, one a page of the processor's address space: 1 = the circuit answers this page itself. */
  claims(): Uint8Array;
  /** Pages $60..$7F: offset into `work`; pages $80..$FF: offset into `program`; -1 = nothing there (open bus). */
  pageOffset(page: number): number;
  /** Access to a claimed page. `data` is the open-bus byte of a read. `cycle` counts processor cycles from power-on. */
  read(cycle: number, address: number, data: number): number;
  write(cycle: number, address: number, data: number): void;
  /** Eight offsets into `pattern`, one for each KiB of the raster unit's $0000-$1FFF. */
  pictureBanks(): readonly number[];
  /** Which of the two internal KiB pages (0 or 1) each of the four name tables shows. */
  mirroring(): readonly [number, number, number, number];
  /** The circuit's interrupt line: true = asserted. */
  irq(cycle: number): boolean;
  save(): SlotState;
  load(state: SlotState): void;
}

/** Plain data of a circuit: work RAM, pattern RAM when there is any, and its registers by name. */
export interface SlotState {
  readonly circuit: string;
  readonly work: Uint8Array;
  readonly patternRam: Uint8Array;
  readonly registers: Readonly<Record<string, number>>;
}
