import { LatelightError } from '../../errors/latelight-error.ts';
import type { TargetRectangle } from '../../picture/picture.ts';
import type { Timing } from '../../units/timing.ts';
import { type BackgroundState, newBackgroundState } from './background.ts';
import { newScrollState, type ScrollState } from './scroll.ts';
import { type EvaluationState, newEvaluationState, OAM_BYTES } from './sprite-evaluation.ts';
import { newSpriteUnitState, type SpriteUnitState } from './sprite-units.ts';
import { NAME_TABLE_BYTES, PALETTE_CELLS } from './video-memory.ts';

/** Where the beam stands: the dot carried out last. */
interface ClockState {
  /** First tick of the next dot, and of (line 0, dot 0) of this frame. */
  nextTick: number;
  frameTick: number;
  /** Counts frames from 0; -1 before the first. */
  frame: number;
  line: number;
  dot: number;
  /** This frame ends one dot early. */
  isShort: boolean;
}

export interface RegisterState {
  /** PPUCTRL; PPUMASK as written, and as it is in force. */
  control: number;
  mask: number;
  activeMask: number;
  oamAddress: number;
  /** What the next read of PPUDATA returns, and what stands on the unit's data pins. */
  buffer: number;
  latch: number;
  isVblank: boolean;
  isSpriteZeroHit: boolean;
  isOverflow: boolean;
  /** The first pre-render line has been reached: all registers take writes. */
  isWarm: boolean;
  /** PPUSTATUS was read one dot before the vblank flag: it is not set in this frame. */
  isVblankSuppressed: boolean;
  /** Dots until a change under way takes effect, 0 = none: mask bits, v = t, sprite 0 hit. */
  renderingDots: number;
  colourDots: number;
  addressDots: number;
  hitDots: number;
  /** One of the four is not 0. */
  isChangeDue: boolean;
}

/** Everything that the raster unit holds, as plain data. */
export interface RasterState {
  readonly clock: ClockState;
  readonly registers: RegisterState;
  readonly scroll: ScrollState;
  readonly background: BackgroundState;
  readonly evaluation: EvaluationState;
  readonly units: SpriteUnitState;
  readonly nameTables: Uint8Array;
  readonly palette: Uint8Array;
  readonly oam: Uint8Array;
  /** Targets taken at the latest vblank, for the next picture. */
  targets: readonly TargetRectangle[];
}

/** Power-on, one dot before (0,0) of frame 0. Memories start as zeros (undefined on the machine). */
export function newRasterState(timing: Timing, startTick: number): RasterState {
  return {
    clock: {
      nextTick: startTick,
      frameTick: startTick - timing.linesPerFrame * timing.dotsPerLine * timing.dotDivider,
      frame: -1,
      line: timing.preRenderLine,
      dot: timing.dotsPerLine - 1,
      isShort: false,
    },
    registers: newRegisterState(),
    scroll: newScrollState(),
    background: newBackgroundState(),
    evaluation: newEvaluationState(),
    units: newSpriteUnitState(),
    nameTables: new Uint8Array(NAME_TABLE_BYTES),
    palette: new Uint8Array(PALETTE_CELLS),
    oam: new Uint8Array(OAM_BYTES),
    targets: [],
  };
}

const newRegisterState = (): RegisterState => ({
  control: 0,
  mask: 0,
  activeMask: 0,
  oamAddress: 0,
  buffer: 0,
  latch: 0,
  isVblank: false,
  isSpriteZeroHit: false,
  isOverflow: false,
  isWarm: false,
  isVblankSuppressed: false,
  renderingDots: 0,
  colourDots: 0,
  addressDots: 0,
  hitDots: 0,
  isChangeDue: false,
});

type Fields = Record<string, unknown>;

/** Copy every field of `source` into the record of the same shape, arrays in place. */
export function copyRasterState(source: RasterState, target: RasterState): void {
  copyFields(source as unknown as Fields, target as unknown as Fields);
  target.targets = source.targets.map((rectangle) => ({ ...rectangle }));
}

function copyFields(source: Fields, target: Fields): void {
  for (const name of Object.keys(target)) {
    const value = source[name];
    if (value instanceof Uint8Array) (target[name] as Uint8Array).set(value);
    else if (typeof value === 'object') copyFields(value as Fields, target[name] as Fields);
    else target[name] = value;
  }
}

/** Largest value by name; all others are bytes. Bounds what is used as an index, so that no state can run wild. */
function limitsOf(timing: Timing): Readonly<Record<string, number>> {
  return {
    nextTick: Number.MAX_SAFE_INTEGER,
    frameTick: Number.MAX_SAFE_INTEGER,
    frame: Number.MAX_SAFE_INTEGER,
    line: timing.preRenderLine,
    dot: timing.dotsPerLine - 1,
    v: 0x7fff,
    t: 0x7fff,
    x: 7,
    w: 1,
    attribute: 3,
    head: 15,
    position: 264,
    filled: 32,
    bytesLeft: 3,
  };
}

/** Refuse a state whose fields are missing, of another kind or out of range. Error: STATE_FIELD. */
export function checkRasterState(state: RasterState, timing: Timing): void {
  checkFields(newRasterState(timing, 0) as unknown as Fields, state as unknown as Fields, 'raster', limitsOf(timing));
}

function checkFields(model: Fields, found: Fields, path: string, limits: Readonly<Record<string, number>>): void {
  for (const [name, expected] of Object.entries(model)) {
    const field = `${path}.${name}`;
    const value = found[name];
    if (expected instanceof Uint8Array) checkBytes(field, value, expected.length);
    else if (Array.isArray(expected)) check(Array.isArray(value), field, value, 'a list');
    else if (typeof expected === 'number') checkNumber(field, value, limits[name] ?? 0xff);
    else if (typeof expected === 'boolean') check(typeof value === 'boolean', field, value, 'true or false');
    else {
      check(typeof value === 'object' && value !== null, field, value, 'a record');
      checkFields(expected as Fields, value as Fields, field, limits);
    }
  }
}

function checkBytes(field: string, value: unknown, length: number): void {
  const isRight = value instanceof Uint8Array && value.length === length;
  check(isRight, field, value instanceof Uint8Array ? `${value.length} bytes` : value, `${length} bytes`);
}

/** Only the frame and its tick are negative, before the first frame. */
function checkNumber(field: string, value: unknown, max: number): void {
  const min = max === Number.MAX_SAFE_INTEGER ? -max : 0;
  const isRight = Number.isInteger(value) && (value as number) >= min && (value as number) <= max;
  check(isRight, field, value, `a whole number within ${min}..${max}`);
}

function check(isRight: boolean, field: string, found: unknown, expected: string): void {
  if (!isRight) throw new LatelightError('STATE_FIELD', { field, found: String(found), expected });
}
