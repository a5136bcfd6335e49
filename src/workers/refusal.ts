/** A refusal as data: an error class does not survive the way out of a worker. */
export interface Refusal {
  readonly refused: string;
  readonly hint: string;
}
