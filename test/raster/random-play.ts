import type { Lot } from './lot.ts';
import type { RasterPair } from './raster-pair.ts';

/** How a frame is disturbed. */
export interface Play {
  /** Registers are touched in one line of so many. */
  readonly everyLines: number;
  /** Rendering stays on in all but one of so many mask writes. */
  readonly darkOneIn: number;
}

/**
 * Accesses at random dots over one frame, all registers, with sprite DMA between pictures and sometimes within one; now
 * and then aimed at the dots about which something happens.
 */
export function playFrame(pair: RasterPair, lot: Lot, play: Play): void {
  const { timing } = pair;
  const frame = pair.frameTick;
  const lineTicks = timing.dotsPerLine * timing.dotDivider;
  const dmaLine = 241 + lot.below(timing.preRenderLine - 250);
  const exchangeLine = lot.below(timing.preRenderLine);
  for (let line = lot.below(play.everyLines); line < timing.linesPerFrame; line += play.everyLines) {
    const isIn = (wanted: number) => line <= wanted && line + play.everyLines > wanted;
    const start = frame + line * lineTicks;
    const tick = Math.max(pair.tick, start + lot.below(lineTicks));
    // Accesses go in order, and within this frame, which may be short.
    if (tick >= start + lineTicks || tick > lastTickOf(pair)) continue;
    if (isIn(dmaLine) && line > 240) sendSprites(pair, lot, tick);
    else if (lot.oneIn(300)) sendSprites(pair, lot, tick);
    else if (!lot.oneIn(2) || !aimAtFlag(pair, lot, tick, play)) touchRegisters(pair, lot, tick, play);
    if (isIn(exchangeLine)) pair.exchangeStates();
    if (lot.oneIn(100)) pair.comparePictureInProgress();
    else if (lot.oneIn(8)) pair.fast.raster.catchUpTo(pair.tick);
    if (isIn(timing.vblankLine) && lot.oneIn(3)) touchAround(pair, lot, frame + timing.vblankLine * lineTicks, play);
  }
  const dot = [280, 304, 338][lot.below(3)]!;
  const aim = frame + timing.preRenderLine * lineTicks + dot * timing.dotDivider;
  if (lot.oneIn(3) && pair.frameTick === frame) touchAround(pair, lot, aim, play);
  goToNextFrame(pair);
}

/** The last tick that is in this frame whether or not it is short. */
function lastTickOf(pair: RasterPair): number {
  const { timing } = pair;
  return pair.frameTick + (timing.linesPerFrame * timing.dotsPerLine - 2) * timing.dotDivider;
}

/** About where the fast unit says that a flag rises soon: if it is wrong by one dot, this shows it. */
function aimAtFlag(pair: RasterPair, lot: Lot, tick: number, play: Play): boolean {
  pair.runTo(tick);
  const { raster } = pair.fast;
  const { timing } = pair;
  const aim = lot.oneIn(3) ? raster.overflowTick() : raster.spriteZeroHitTick();
  const isSoon = aim - tick < play.everyLines * timing.dotsPerLine * timing.dotDivider;
  if (isSoon) cutAround(pair, lot, aim);
  return isSoon;
}

/** Status reads and states compared in the dots about a tick. */
function cutAround(pair: RasterPair, lot: Lot, aim: number): void {
  for (let dots = -2; dots <= 2; dots++) {
    const tick = Math.max(pair.tick, aim + dots * pair.timing.dotDivider);
    if (lot.oneIn(2)) pair.read(2, tick);
    if (lot.oneIn(3)) {
      pair.runTo(tick);
      pair.compareStates();
    }
  }
}

function touchAround(pair: RasterPair, lot: Lot, aim: number, play: Play): void {
  for (let dots = -2; dots <= 2; dots++) {
    const tick = Math.max(pair.tick, aim + dots * pair.timing.dotDivider);
    if (tick > lastTickOf(pair)) return;
    if (lot.oneIn(4)) pair.read(2, tick);
    if (lot.oneIn(3)) touchRegister(pair, lot, tick, play);
    if (lot.oneIn(3)) {
      pair.runTo(tick);
      pair.compareStates();
    }
  }
}

export function goToNextFrame(pair: RasterPair): void {
  const { timing } = pair;
  const frame = pair.frameTick;
  pair.runTo(Math.max(pair.tick, frame + (timing.linesPerFrame * timing.dotsPerLine - 1) * timing.dotDivider));
  while (pair.frameTick === frame) pair.runTo(pair.tick + timing.dotDivider);
}

function touchRegisters(pair: RasterPair, lot: Lot, from: number, play: Play): void {
  let tick = from;
  for (let left = 1 + lot.below(3); left > 0 && tick <= lastTickOf(pair); left--) {
    touchRegister(pair, lot, tick, play);
    tick += lot.oneIn(3) ? lot.below(12 * pair.timing.dotDivider) : pair.timing.cpuDivider;
    if (lot.oneIn(6)) pair.runTo(tick - lot.below(pair.timing.cpuDivider));
    if (tick < pair.tick) tick = pair.tick;
  }
}

function touchRegister(pair: RasterPair, lot: Lot, at: number, play: Play): void {
  const tick = Math.max(pair.tick, at);
  const kind = lot.below(24);
  const value = lot.below(256);
  if (kind < 4) pair.read(2, tick);
  else if (kind === 4) pair.read(4, tick);
  else if (kind === 5) pair.read(7, tick);
  else if (kind === 6) pair.read(lot.below(8), tick);
  else if (kind < 11) pair.write(1, lot.oneIn(play.darkOneIn) ? value & 0xe7 : value | (lot.oneIn(4) ? 8 : 0x18), tick);
  else if (kind < 13) pair.write(0, lot.oneIn(3) ? value : (value & 0xc7) | 0x10, tick);
  else if (kind < 16) pair.write(5, value, tick);
  else if (kind < 18) pair.write(6, value, tick);
  else if (kind < 20) pair.write(7, value, tick);
  else if (kind === 20) pair.write(3, lot.oneIn(2) ? 0 : value, tick);
  else if (kind === 21) pair.write(4, value, tick);
  else if (kind === 22) pair.write(2, value, tick);
  else {
    pair.write(6, 0x3f, tick);
    pair.write(6, value & 0x1f, tick + pair.timing.cpuDivider);
    pair.write(7, lot.below(64), tick + 2 * pair.timing.cpuDivider);
  }
}

/** Sprites crowded into a few lines now and then, so that the search overflows. */
function sendSprites(pair: RasterPair, lot: Lot, tick: number): void {
  const bytes = lot.bytes(256);
  const rows = [240, 60, 24][lot.below(3)]!;
  const top = lot.below(240);
  for (let entry = 0; entry < 64; entry++) bytes[4 * entry] = (top + lot.below(rows)) & 0xff;
  if (lot.oneIn(4)) bytes[0] = [0, 231, 237, 238, 239][lot.below(5)]!;
  if (lot.oneIn(4)) bytes[3] = [0, 1, 7, 248, 254, 255][lot.below(6)]!;
  pair.sendSprites(bytes, tick);
}
