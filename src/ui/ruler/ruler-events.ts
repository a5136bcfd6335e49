import type { Span } from '../time-scale.ts';

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

  constructor({ fromMs, toMs, columns }: Span & { readonly columns: number }) {
    super('detail-wanted', { bubbles: true, composed: true });
    this.fromMs = fromMs;
    this.toMs = toMs;
    this.columns = columns;
  }
}
