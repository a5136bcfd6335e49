/** What the page asks of the worker: one shot of First Light through a light path. */
export interface ShotRequest {
  readonly panel: 'beam-tube' | 'lcd';
  /** Whole delay of the picture before the panel, 0 to 500 ms. */
  readonly delayMs: number;
  readonly image: Uint8Array;
  readonly labels: string;
  /** The scenario to start from, as JSON text. */
  readonly scenario: string;
}

export interface ShotAnswer {
  readonly judgement: string;
  readonly sentence: string;
  /** Milliseconds after the trigger; null where a thing did not happen. */
  readonly instants: Readonly<Record<string, number | null>>;
}

/** A refusal as data: an error class does not survive the way out of a worker. */
export interface Refusal {
  readonly refused: string;
  readonly hint: string;
}

export interface ShotService {
  shoot(request: ShotRequest): ShotAnswer | Refusal;
}
