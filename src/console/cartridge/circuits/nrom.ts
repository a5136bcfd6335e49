import { LatelightError } from '../../../errors/latelight-error.ts';
import type { CartridgeImage } from '../../../program/image.ts';
import type { Slot, SlotState } from '../slot.ts';

/**
 * What the circuit is built from. Program: 16 KiB, shown twice, or 32 KiB. Pattern memory: 8 KiB of ROM, or none and
 * 8 KiB of RAM. Work RAM at $6000-$7FFF: none, or a power of two within 256..8192 bytes; a smaller one repeats.
 */
export type NromParts = Pick<CartridgeImage, 'program' | 'pattern' | 'patternRamBytes' | 'workRamBytes' | 'mirroring'>;

const KIB = 1024;
const PAGE_BYTES = 256;
const PATTERN_BANKS = [0, KIB, 2 * KIB, 3 * KIB, 4 * KIB, 5 * KIB, 6 * KIB, 7 * KIB] as const;
/** By mirroring: 'vertical' repeats the tables downwards (header bit M = 1), 'horizontal' sideways. */
const NAME_TABLE_PAGES = { vertical: [0, 1, 0, 1], horizontal: [0, 0, 1, 1] } as const;

/**
 * The plain circuit: fixed program, fixed pattern memory, no register. Writes to ROM change nothing.
 * Errors: CIRCUIT_MEMORY. Source: hardware documentation wiki, pages "NROM" and "Mirroring".
 */
export class Nrom implements Slot {
  readonly program: Uint8Array;
  readonly work: Uint8Array;
  readonly pattern: Uint8Array;
  readonly isPatternWritable: boolean;
  readonly #mirroring: readonly [number, number, number, number];

  constructor({ program, pattern, patternRamBytes, workRamBytes, mirroring }: NromParts) {
    checkSize('program', program.length, [16 * KIB, 32 * KIB]);
    checkSize('pattern ROM', pattern.length, patternRamBytes > 0 ? [0] : [8 * KIB]);
    checkSize('pattern RAM', patternRamBytes, [0, 8 * KIB]);
    checkSize('work', workRamBytes, [0, 256, 512, KIB, 2 * KIB, 4 * KIB, 8 * KIB]);
    this.program = program;
    this.isPatternWritable = patternRamBytes > 0;
    this.pattern = this.isPatternWritable ? new Uint8Array(patternRamBytes) : pattern;
    this.work = new Uint8Array(workRamBytes);
    this.#mirroring = NAME_TABLE_PAGES[mirroring];
  }

  claims(): Uint8Array {
    return new Uint8Array(256);
  }

  pageOffset(page: number): number {
    if (page >= 0x80) return ((page - 0x80) * PAGE_BYTES) % this.program.length;
    if (page >= 0x60 && this.work.length > 0) return ((page - 0x60) * PAGE_BYTES) % this.work.length;
    return -1;
  }

  /** No page is claimed: the bus keeps what it holds. */
  read(_cycle: number, _address: number, data: number): number {
    return data;
  }

  write(_cycle: number, _address: number, _data: number): void {}

  pictureBanks(): readonly number[] {
    return PATTERN_BANKS;
  }

  mirroring(): readonly [number, number, number, number] {
    return this.#mirroring;
  }

  irq(_cycle: number): boolean {
    return false;
  }

  save(): SlotState {
    const patternRam = this.isPatternWritable ? this.pattern.slice() : new Uint8Array(0);
    return { circuit: 'NROM', work: this.work.slice(), patternRam, registers: {} };
  }

  /** Error: STATE_FIELD. */
  load(state: SlotState): void {
    if (state.circuit !== 'NROM') {
      throw new LatelightError('STATE_FIELD', { field: 'slot.circuit', found: state.circuit, expected: 'NROM' });
    }
    checkLength('slot.work', state.work, this.work.length);
    checkLength('slot.patternRam', state.patternRam, this.isPatternWritable ? this.pattern.length : 0);
    this.work.set(state.work);
    if (this.isPatternWritable) this.pattern.set(state.patternRam);
  }
}

function checkSize(memory: string, found: number, allowed: readonly number[]): void {
  if (allowed.includes(found)) return;
  throw new LatelightError('CIRCUIT_MEMORY', { circuit: 'NROM', memory, found, allowed: allowed.join(' or ') });
}

function checkLength(field: string, found: Uint8Array, length: number): void {
  if (found.length === length) return;
  throw new LatelightError('STATE_FIELD', { field, found: `${found.length} bytes`, expected: `${length} bytes` });
}
