import type { Slot, SlotState } from '../../src/console/cartridge/slot.ts';

const PAGES = [
  [0, 1, 0, 1],
  [0, 0, 1, 1],
  [0, 0, 0, 0],
  [1, 1, 1, 1],
] as const;

/** A cartridge of pattern ROM alone whose banks and mirroring a test switches; banks may lie where nothing answers. */
export class BankedSlot implements Slot {
  readonly program = new Uint8Array(0);
  readonly work = new Uint8Array(0);
  readonly isPatternWritable = false;
  readonly pattern: Uint8Array;
  banks: number[] = [0, 1024, 2048, 3072, 4096, 5120, 6144, 7168];
  arrangement = 0;

  constructor(pattern: Uint8Array) {
    this.pattern = pattern;
  }

  claims(): Uint8Array {
    return new Uint8Array(256);
  }

  pageOffset(): number {
    return -1;
  }

  read(_cycle: number, _address: number, data: number): number {
    return data;
  }

  write(): void {}

  pictureBanks(): readonly number[] {
    return this.banks;
  }

  mirroring(): readonly [number, number, number, number] {
    return PAGES[this.arrangement]!;
  }

  irq(): boolean {
    return false;
  }

  save(): SlotState {
    return { circuit: 'banked', work: this.work, patternRam: new Uint8Array(0), registers: {} };
  }

  load(): void {}
}
