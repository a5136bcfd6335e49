import {
  ADDRESS_LATENCY_DOTS,
  COLOUR_BITS_LATENCY_DOTS,
  RENDERING_BITS_LATENCY_DOTS,
} from '../../references/console-constants.ts';
import { PICTURE_HEIGHT, type Timing } from '../../units/timing.ts';
import type { RasterState, RegisterState } from './raster-state.ts';
import { nextColumn, nextRow, writeAddress, writeNameTableBits, writeScroll } from './scroll.ts';
import type { VideoMemory } from './video-memory.ts';

/** PPUCTRL. */
export const NMI_ENABLE = 0x80;
const INCREMENT_32 = 0x04;

/** PPUMASK. */
const GREY = 0x01;
export const BACKGROUND_LEFT = 0x02;
export const SPRITES_LEFT = 0x04;
export const BACKGROUND_ON = 0x08;
export const SPRITES_ON = 0x10;
export const EMPHASIS = 0xe0;
/** Either layer on: the unit fetches and evaluates. */
export const RENDERING_ON = BACKGROUND_ON | SPRITES_ON;
const RENDERING_BITS = RENDERING_ON | BACKGROUND_LEFT | SPRITES_LEFT;
const COLOUR_BITS = GREY | EMPHASIS;

/** The unit uses its bus for the picture now: registers that share it behave otherwise. */
function isRendering(state: RasterState, timing: Timing): boolean {
  const { line } = state.clock;
  return (line < PICTURE_HEIGHT || line === timing.preRenderLine) && (state.registers.activeMask & RENDERING_ON) !== 0;
}

/** Six bits of a palette colour as they leave for the screen, or for a read of PPUDATA. */
export const applyGrey = (colour: number, mask: number): number => ((mask & GREY) !== 0 ? colour & 0x30 : colour);

/**
 * Read register 0..7 with its side effects.
 *
 * Bits that the unit does not drive come from its latch and do not refresh it. The latch does not decay yet.
 * Source: hardware documentation wiki, "PPU registers" and "Open bus behavior"; the open-bus test program's notes.
 */
export function readRegister(state: RasterState, memory: VideoMemory, timing: Timing, register: number): number {
  const { registers } = state;
  switch (register) {
    case 2:
      registers.latch = readStatus(state, timing);
      break;
    case 4:
      registers.latch = readOam(state, timing);
      break;
    case 7:
      registers.latch = readData(state, memory, timing);
      break;
  }
  return registers.latch;
}

/** Reading one dot before the flag keeps it from being set (wiki, "PPU frame timing"; vblank test program 02, 06). */
function readStatus(state: RasterState, timing: Timing): number {
  const { registers, clock, scroll } = state;
  const value =
    (registers.latch & 0x1f) |
    (registers.isOverflow ? 0x20 : 0) |
    (registers.isSpriteZeroHit ? 0x40 : 0) |
    (registers.isVblank ? 0x80 : 0);
  registers.isVblank = false;
  scroll.w = 0;
  if (clock.line === timing.vblankLine && clock.dot === 0) registers.isVblankSuppressed = true;
  return value;
}

/** While the picture is drawn, PPUOAMDATA shows what the evaluation and the sprite fetches are reading. */
function readOam(state: RasterState, timing: Timing): number {
  const { clock, evaluation } = state;
  const isPreRender = clock.line === timing.preRenderLine;
  const isSearch = clock.dot >= 1 && clock.dot <= 256;
  if (!isRendering(state, timing) || (isPreRender && isSearch)) return state.oam[state.registers.oamAddress]!;
  if (isSearch) return clock.dot <= 64 ? 0xff : evaluation.bus;
  if (clock.dot < 257 || clock.dot > 320) return evaluation.secondary[0]!;
  const place = clock.dot - 257;
  return evaluation.secondary[((place >> 3) << 2) + Math.min(place & 7, 3)]!;
}

function readData(state: RasterState, memory: VideoMemory, timing: Timing): number {
  const { registers, scroll } = state;
  const address = scroll.v & 0x3fff;
  const isPalette = address >= 0x3f00;
  const value = isPalette
    ? (registers.latch & 0xc0) | applyGrey(memory.readPalette(address), registers.activeMask)
    : registers.buffer;
  registers.buffer = memory.read(address);
  stepAddress(state, timing);
  return value;
}

/** PPUDATA moves v on: by 1 or 32, or while rendering by a column and a row at once. */
function stepAddress(state: RasterState, timing: Timing): void {
  const { scroll, registers } = state;
  if (isRendering(state, timing)) scroll.v = nextRow(nextColumn(scroll.v));
  else scroll.v = (scroll.v + ((registers.control & INCREMENT_32) !== 0 ? 32 : 1)) & 0x7fff;
}

/** Write register 0..7 with its side effects. Until the first pre-render line, 0, 1, 5 and 6 take no writes. */
export function writeRegister(
  state: RasterState,
  memory: VideoMemory,
  timing: Timing,
  register: number,
  value: number,
): void {
  const { registers, scroll } = state;
  registers.latch = value;
  switch (register) {
    case 3:
      registers.oamAddress = value;
      return;
    case 4:
      writeOamByte(state, timing, value);
      return;
    case 7:
      memory.write(scroll.v & 0x3fff, value);
      stepAddress(state, timing);
      return;
  }
  if (!registers.isWarm) return;
  switch (register) {
    case 0:
      registers.control = value;
      writeNameTableBits(scroll, value);
      return;
    case 1:
      writeMask(registers, value);
      return;
    case 5:
      writeScroll(scroll, value);
      return;
    case 6:
      if (writeAddress(scroll, value)) startChange(registers, 'addressDots', ADDRESS_LATENCY_DOTS);
      return;
  }
}

/** Byte 2 of an entry has no bits 4..2 (wiki, "PPU OAM"). Drawing, the memory is busy and only the address moves. */
function writeOamByte(state: RasterState, timing: Timing, value: number): void {
  const { registers, oam } = state;
  if (isRendering(state, timing)) {
    registers.oamAddress = (registers.oamAddress + 4) & 0xff;
    return;
  }
  oam[registers.oamAddress] = (registers.oamAddress & 3) === 2 ? value & 0xe3 : value;
  registers.oamAddress = (registers.oamAddress + 1) & 0xff;
}

function writeMask(registers: RegisterState, value: number): void {
  registers.mask = value;
  startChange(registers, 'renderingDots', RENDERING_BITS_LATENCY_DOTS);
  startChange(registers, 'colourDots', COLOUR_BITS_LATENCY_DOTS);
}

/** A change that starts while the same one is under way takes its place; the processor cannot be that fast. */
export function startChange(
  registers: RegisterState,
  what: 'renderingDots' | 'colourDots' | 'addressDots' | 'hitDots',
  dots: number,
): void {
  registers[what] = Math.max(dots, 1);
  registers.isChangeDue = true;
}

/** One dot has gone by: carry out the changes whose time has come. */
export function settleChanges(state: RasterState): void {
  const { registers, scroll } = state;
  if (registers.renderingDots > 0 && --registers.renderingDots === 0) takeMaskBits(registers, RENDERING_BITS);
  if (registers.colourDots > 0 && --registers.colourDots === 0) takeMaskBits(registers, COLOUR_BITS);
  if (registers.addressDots > 0 && --registers.addressDots === 0) scroll.v = scroll.t;
  if (registers.hitDots > 0 && --registers.hitDots === 0) registers.isSpriteZeroHit = true;
  registers.isChangeDue =
    registers.renderingDots + registers.colourDots + registers.addressDots + registers.hitDots > 0;
}

function takeMaskBits(registers: RegisterState, bits: number): void {
  registers.activeMask = (registers.activeMask & ~bits) | (registers.mask & bits);
}
