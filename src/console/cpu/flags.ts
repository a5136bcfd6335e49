/**
 * The status register P, bits 7..0: N V 1 B D I Z C. B and bit 5 are no storage: they exist only in a pushed copy.
 * Here P always has bit 5 set and B clear. Source: hardware documentation wiki, page "Status flags".
 */
export const FLAG_C = 0x01;
export const FLAG_Z = 0x02;
export const FLAG_I = 0x04;
export const FLAG_D = 0x08;
export const FLAG_B = 0x10;
export const FLAG_1 = 0x20;
export const FLAG_V = 0x40;
export const FLAG_N = 0x80;

/** What the operations work on. All bytes; the status byte as above. */
export interface Registers {
  a: number;
  x: number;
  y: number;
  s: number;
  p: number;
}

export function setNZ(r: Registers, value: number): void {
  r.p = (r.p & ~(FLAG_N | FLAG_Z)) | (value & FLAG_N) | (value === 0 ? FLAG_Z : 0);
}

export function setCarry(r: Registers, isSet: boolean): void {
  r.p = isSet ? r.p | FLAG_C : r.p & ~FLAG_C;
}

export function setOverflow(r: Registers, isSet: boolean): void {
  r.p = isSet ? r.p | FLAG_V : r.p & ~FLAG_V;
}

/** A = A + value + C, in binary whatever D says: the decimal adder is absent (wiki, page "Errata"). */
export function addWithCarry(r: Registers, value: number): void {
  const sum = r.a + value + (r.p & FLAG_C);
  setCarry(r, sum > 0xff);
  setOverflow(r, ((r.a ^ sum) & (value ^ sum) & 0x80) !== 0);
  r.a = sum & 0xff;
  setNZ(r, r.a);
}

/** Flags of `register` - `value`; C = no borrow. */
export function compare(r: Registers, register: number, value: number): void {
  setCarry(r, register >= value);
  setNZ(r, (register - value) & 0xff);
}

/** P as an instruction or an interrupt pushes it. `breakFlag` is FLAG_B for PHP and BRK, 0 for IRQ and NMI. */
export const pushedStatus = (r: Registers, breakFlag: number): number => r.p | FLAG_1 | breakFlag;

/** Take P from the stack: B and bit 5 of the pulled byte are ignored. */
export function pullStatus(r: Registers, value: number): void {
  r.p = (value & ~FLAG_B) | FLAG_1;
}
