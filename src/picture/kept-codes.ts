import { PICTURE_WIDTH } from '../units/timing.ts';

/** Codes that are compared at one go, read as one number: a code has few bits, so that no four of them are a NaN. */
const AT_ONCE = 4;

/** Views of the codes of pictures, whose storage is used time and again. */
const views = new WeakMap<Uint16Array, Float64Array>();
/** The same picture is asked for again and again. */
let latestCodes: Uint16Array | undefined;
let latestView: Float64Array | undefined;

function viewOf(codes: Uint16Array): Float64Array {
  if (codes === latestCodes) return latestView!;
  latestCodes = codes;
  latestView = storedViewOf(codes);
  return latestView;
}

function storedViewOf(codes: Uint16Array): Float64Array {
  const known = views.get(codes);
  if (known !== undefined) return known;
  const view = new Float64Array(codes.buffer, codes.byteOffset, codes.length / AT_ONCE);
  views.set(codes, view);
  return view;
}

/**
 * Some dots of some scanlines as they were in a picture, and whether another one has the same there. Up to three dots
 * beside those on either side are compared as well: `false` may mean that only these differ.
 */
export class KeptCodes {
  readonly #firstLine: number;
  readonly #firstGroup: number;
  readonly #groups: number;
  readonly #kept: Float64Array;

  constructor(firstLine: number, lineCount: number, firstDot: number, dotCount: number) {
    this.#firstLine = firstLine;
    this.#firstGroup = Math.floor(firstDot / AT_ONCE);
    this.#groups = dotCount > 0 ? Math.ceil((firstDot + dotCount) / AT_ONCE) - this.#firstGroup : 0;
    this.#kept = new Float64Array(Math.max(0, lineCount) * this.#groups);
  }

  /** Keep `count` lines of these codes, from the line `first` of those kept on. */
  keep(codes: Uint16Array, first: number, count: number): void {
    const view = viewOf(codes);
    const groups = this.#groups;
    for (let line = first; line < first + count; line++) {
      const at = this.#place(line);
      for (let i = 0; i < groups; i++) this.#kept[line * groups + i] = view[at + i]!;
    }
  }

  /** Whether the first `count` lines are as those kept. */
  isAsKept(codes: Uint16Array, count: number): boolean {
    const view = viewOf(codes);
    const kept = this.#kept;
    const groups = this.#groups;
    const end = count * groups;
    let at = this.#place(0);
    for (let i = 0; i < end; at += PICTURE_WIDTH / AT_ONCE - groups) {
      for (const lineEnd = i + groups; i < lineEnd; i++, at++) if (view[at] !== kept[i]) return false;
    }
    return true;
  }

  #place(line: number): number {
    return ((this.#firstLine + line) * PICTURE_WIDTH) / AT_ONCE + this.#firstGroup;
  }
}
