/** What pointers do to a ruler; x in pixels from its left border. */
export type Gesture =
  | { readonly kind: 'hover'; readonly x: number }
  | { readonly kind: 'click'; readonly x: number; readonly isShifted: boolean }
  | { readonly kind: 'drag'; readonly x: number; readonly byX: number }
  | { readonly kind: 'pinch'; readonly factor: number; readonly x: number; readonly byX: number };

/** A pointer that moves less than this has clicked, px. */
const CLICK_PX = 4;

interface Held {
  readonly startX: number;
  x: number;
  hasMoved: boolean;
}

/** Follows pointers that are down: one drags or clicks, two pinch. */
export class Gestures {
  readonly #held = new Map<number, Held>();

  get isIdle(): boolean {
    return this.#held.size === 0;
  }

  down(id: number, x: number): void {
    this.#held.set(id, { startX: x, x, hasMoved: this.#held.size > 0 });
    if (this.#held.size > 1) for (const held of this.#held.values()) held.hasMoved = true;
  }

  move(id: number, x: number): Gesture | undefined {
    const held = this.#held.get(id);
    if (held === undefined) return this.isIdle ? { kind: 'hover', x } : undefined;
    const other = [...this.#held].find(([key]) => key !== id)?.[1];
    if (other !== undefined) return pinched(held, other, x);
    if (!held.hasMoved && Math.abs(x - held.startX) < CLICK_PX) return undefined;
    held.hasMoved = true;
    const byX = x - held.x;
    held.x = x;
    return { kind: 'drag', x, byX };
  }

  up(id: number, isShifted: boolean): Gesture | undefined {
    const held = this.#held.get(id);
    this.#held.delete(id);
    return held === undefined || held.hasMoved ? undefined : { kind: 'click', x: held.startX, isShifted };
  }

  cancel(id: number): void {
    this.#held.delete(id);
  }
}

function pinched(held: Held, other: Held, x: number): Gesture | undefined {
  const before = Math.abs(held.x - other.x);
  const after = Math.abs(x - other.x);
  const byX = (x - held.x) / 2;
  held.x = x;
  if (before < 1 || after < 1) return undefined;
  return { kind: 'pinch', factor: before / after, x: (x + other.x) / 2, byX };
}
