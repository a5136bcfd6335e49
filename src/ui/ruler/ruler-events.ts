import type { Span } from '../time-scale.ts';
import type { RulerLook } from './ruler-model.ts';

/** The held cursor was put somewhere, ms after the trigger; null: it is held no more. At most once an animation frame. */
export class CursorTimeEvent extends Event {
  readonly ms: number | null;

  constructor(ms: number | null) {
    super('cursor-time', { bubbles: true, composed: true });
    this.ms = ms;
  }
}

/** The view shows less than a column of the lanes a pixel: set `detail` to this part of the light. */
export class DetailWantedEvent extends Event {
  readonly fromMs: number;
  readonly toMs: number;
  readonly columns: number;

  constructor({ fromMs, toMs, columns }: Span & { readonly columns: number }, name = 'detail-wanted') {
    super(name, { bubbles: true, composed: true });
    this.fromMs = fromMs;
    this.toMs = toMs;
    this.columns = columns;
  }
}

/** Somebody has moved the view or the cursors: rulers that share them set `look`. */
export class RulerLookEvent extends Event {
  readonly look: RulerLook;

  constructor(look: RulerLook) {
    super('ruler-look', { bubbles: true, composed: true });
    this.look = look;
  }
}
