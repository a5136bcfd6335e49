/**
 * What the raster unit does at each dot of a line that it renders, as bits of one number a dot.
 * Source: hardware documentation wiki, "PPU rendering" (the table of a line), "PPU scrolling", "PPU sprite evaluation".
 */
export const SHIFT = 0x1;
export const RELOAD = 0x2;
export const PIXEL = 0x4;
export const FETCH_NAME = 0x8;
export const FETCH_ATTRIBUTE = 0x10;
export const FETCH_LOW = 0x20;
export const FETCH_HIGH = 0x40;
export const NEXT_COLUMN = 0x80;
export const NEXT_ROW = 0x100;
export const RESTORE_COLUMN = 0x200;
export const RESTORE_ROW = 0x400;
export const CLEAR_SECONDARY = 0x800;
export const BEGIN_EVALUATION = 0x1000;
export const READ_EVALUATION = 0x2000;
export const JUDGE_EVALUATION = 0x4000;
export const LOAD_SPRITES = 0x8000;
export const CLEAR_FLAGS = 0x1_0000;
export const SAMPLE_ODD_SKIP = 0x2_0000;

/** Groups, so that a dot without any of them costs one test. */
export const ANY_FETCH = FETCH_NAME | FETCH_ATTRIBUTE | FETCH_LOW | FETCH_HIGH;
export const ANY_MOVE = NEXT_COLUMN | NEXT_ROW | RESTORE_COLUMN | RESTORE_ROW;
export const ANY_SPRITE_WORK = CLEAR_SECONDARY | READ_EVALUATION | JUDGE_EVALUATION | LOAD_SPRITES;

/** One entry a dot: a picture line, and the pre-render line. */
export function actionsOfLine(isPreRender: boolean, skipSampleDot: number): Int32Array {
  return Int32Array.from(
    { length: 341 },
    (_, dot) => backgroundActions(dot) | (isPreRender ? preRenderActions(dot, skipSampleDot) : pictureActions(dot)),
  );
}

const isWithin = (dot: number, first: number, last: number): boolean => dot >= first && dot <= last;

/** Equal on picture lines and the pre-render line. The two name fetches of dots 337..340 change nothing. */
function backgroundActions(dot: number): number {
  let actions = 0;
  if (isWithin(dot, 2, 257) || isWithin(dot, 322, 337)) {
    actions |= SHIFT;
    if (dot % 8 === 1) actions |= RELOAD;
  }
  if (isWithin(dot, 1, 256) || isWithin(dot, 321, 336)) actions |= fetchOfDot(dot);
  if (dot === 256) actions |= NEXT_ROW;
  if (dot === 257) actions |= RESTORE_COLUMN;
  if (isWithin(dot, 257, 320)) actions |= LOAD_SPRITES;
  return actions;
}

/** Each fetch takes two dots, address and data; the byte is read on the second. */
function fetchOfDot(dot: number): number {
  switch (dot % 8) {
    case 2:
      return FETCH_NAME;
    case 4:
      return FETCH_ATTRIBUTE;
    case 6:
      return FETCH_LOW;
    case 0:
      return FETCH_HIGH | NEXT_COLUMN;
    default:
      return 0;
  }
}

function pictureActions(dot: number): number {
  const isEven = dot % 2 === 0;
  let actions = isWithin(dot, 1, 256) ? PIXEL : 0;
  if (isWithin(dot, 1, 64) && isEven) actions |= CLEAR_SECONDARY;
  if (dot === 65) actions |= BEGIN_EVALUATION;
  if (isWithin(dot, 65, 256)) actions |= isEven ? JUDGE_EVALUATION : READ_EVALUATION;
  return actions;
}

function preRenderActions(dot: number, skipSampleDot: number): number {
  let actions = isWithin(dot, 280, 304) ? RESTORE_ROW : 0;
  if (dot === 1) actions |= CLEAR_FLAGS;
  if (dot === skipSampleDot) actions |= SAMPLE_ODD_SKIP;
  return actions;
}
