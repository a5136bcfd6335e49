import type { ReactiveControllerHost } from 'lit';
import type { PlayAim } from '../../workers/play.api.ts';
import type { AimEvent } from '../bench-picture.ts';
import { BUTTON_BITS, HeldButtons, padButton, wandStep } from '../pad-keys.ts';

/** What hand and pad do before the next frames. */
export interface HandInput {
  readonly aim: PlayAim;
  readonly pulls: boolean;
  readonly buttons: number;
}

/** A mouse that has not moved for so long stood where it was, ms. Our choice. */
const STAND_MS = 120;

/** The wand and the pad in somebody's hands: pointer and keys go in, what the console is to see of them comes out. */
export class WandDesk {
  readonly #host: ReactiveControllerHost;
  readonly #isRunning: () => boolean;
  readonly #buttons = new HeldButtons();
  #aim: PlayAim;
  /** Where the wand stood last: what a mouse only passes on its way to a button is not aimed at. */
  #stood: PlayAim;
  #movedMs = Number.NEGATIVE_INFINITY;
  #pulls = false;

  /** While `isRunning` is false the trigger does nothing. */
  constructor(host: ReactiveControllerHost, first: PlayAim, isRunning: () => boolean) {
    this.#host = host;
    this.#aim = this.#stood = first;
    this.#isRunning = isRunning;
  }

  get aim(): PlayAim {
    return this.#aim;
  }

  /** Point elsewhere and stand there; the wand stays near the picture. */
  point(aim: PlayAim): void {
    this.#pass(aim);
    this.#stood = this.#aim;
  }

  #pass({ x, y }: PlayAim): void {
    this.#aim = { x: Math.max(-16, Math.min(272, x)), y: Math.max(-16, Math.min(256, y)) };
    this.#host.requestUpdate();
  }

  pull(): void {
    if (this.#isRunning()) this.#pulls = true;
  }

  /** Press a button of the pad and let it go. */
  tap(button: keyof typeof BUTTON_BITS): void {
    this.#buttons.press(BUTTON_BITS[button]);
    this.#buttons.release(BUTTON_BITS[button]);
  }

  /** Let go of everything. */
  release(): void {
    this.#buttons.releaseAll();
    this.#pulls = false;
  }

  /** What happens before the next frames; a pull is taken once. */
  take(frames: number): HandInput {
    const input = { aim: this.#aim, pulls: this.#pulls, buttons: this.#buttons.held };
    this.#pulls = false;
    this.#buttons.ran(frames);
    return input;
  }

  /** While nothing runs the wand moves only where it is pressed: what was shot at stays in sight and in use. */
  follow = ({ aim, isPressed, timeStamp }: AimEvent): void => {
    this.#hasStood(timeStamp);
    this.#movedMs = timeStamp;
    if (isPressed) this.point(aim);
    else if (this.#isRunning()) this.#pass(aim);
  };

  /** Back to where it stood. */
  gone = ({ timeStamp }: Event): void => {
    this.#hasStood(timeStamp);
    this.point(this.#stood);
  };

  #hasStood(nowMs: number): void {
    if (nowMs - this.#movedMs >= STAND_MS) this.#stood = this.#aim;
  }

  pointerDown = (event: PointerEvent): void => {
    if (event.button === 0) this.pull();
  };

  keyDown = (event: KeyboardEvent): void => {
    const step = wandStep(event);
    const button = padButton(event);
    if (step !== undefined) this.point({ x: this.#aim.x + step[0], y: this.#aim.y + step[1] });
    else if (event.code === 'Space' && !event.repeat) this.pull();
    else if (button !== 0) this.#buttons.press(button);
    else if (event.code !== 'Space') return;
    event.preventDefault();
  };

  keyUp = (event: KeyboardEvent): void => {
    this.#buttons.release(padButton(event));
  };
}
