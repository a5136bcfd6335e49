/** Bits of the buttons that are on the page as well. */
export const BUTTON_BITS = { A: 1 << 0, B: 1 << 1, Select: 1 << 2, Start: 1 << 3 } as const;

/** Keys of pad 1 while the picture has the focus, by `KeyboardEvent.code`; the value is the button's bit. */
const PAD_KEYS: Readonly<Record<string, number>> = {
  KeyK: BUTTON_BITS.A,
  KeyJ: BUTTON_BITS.B,
  KeyQ: BUTTON_BITS.Select,
  Enter: BUTTON_BITS.Start,
  KeyW: 1 << 4,
  KeyS: 1 << 5,
  KeyA: 1 << 6,
  KeyD: 1 << 7,
};

/** How far an arrow key moves the wand: dots, with Shift, with Control. */
const STEP = { plain: 1, shift: 8, control: 32 } as const;

const ARROWS: Readonly<Record<string, readonly [x: number, y: number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

/** The bit of the pad's button that this key is, 0 if it is none. */
export const padButton = ({ code, ctrlKey, metaKey, altKey }: KeyboardEvent): number =>
  ctrlKey || metaKey || altKey ? 0 : (PAD_KEYS[code] ?? 0);

/** How an arrow key moves the wand, dots and scanlines; undefined if it is no arrow key. */
export function wandStep({ code, shiftKey, ctrlKey }: KeyboardEvent): readonly [x: number, y: number] | undefined {
  const way = ARROWS[code];
  if (way === undefined) return undefined;
  const step = ctrlKey ? STEP.control : shiftKey ? STEP.shift : STEP.plain;
  return [way[0] * step, way[1] * step];
}

/** Frames for which a button is held at least: programs poll their pads once a frame. */
const LEAST_FRAMES = 2;

/** Buttons held by keys; a key that is down for less than a frame is not lost. */
export class HeldButtons {
  #down = 0;
  /** By bit: frames that it is still to be held, whether or not the key is down. */
  readonly #due = new Map<number, number>();

  press(button: number): void {
    if ((this.#down & button) === 0) this.#due.set(button, LEAST_FRAMES);
    this.#down |= button;
  }

  release(button: number): void {
    this.#down &= ~button;
  }

  releaseAll(): void {
    this.#down = 0;
    this.#due.clear();
  }

  /** The buttons for the next frames, as bits. */
  get held(): number {
    let held = this.#down;
    for (const button of this.#due.keys()) held |= button;
    return held;
  }

  /** So many frames have been run with them. */
  ran(frames: number): void {
    for (const [button, due] of this.#due) {
      if (due <= frames) this.#due.delete(button);
      else this.#due.set(button, due - frames);
    }
  }
}
