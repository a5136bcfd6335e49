/** How far a number can be trusted. `derived`: arithmetic on sourced numbers, recomputable from what `source` says. */
export type SourceKind = 'published' | 'measured' | 'derived' | 'assumed' | 'common practice';

/** A number with where it comes from. Screens show the source on demand. */
export interface Sourced {
  readonly value: number;
  readonly unit: string;
  readonly source: string;
  readonly kind: SourceKind;
}

/** One setting of a model: its range is what schemas, forms and error messages are made from. */
export interface ParameterSpec {
  readonly name: string;
  /** Plain words for a form's label, without the unit. */
  readonly title: string;
  /** The unit as the user types it, for instance `ms`; empty for a pure number. */
  readonly unit: string;
  readonly min: number;
  readonly max: number;
  readonly isInteger?: boolean;
  readonly standard: Sourced;
}

/** A full, sourced setting of a model, named by kind of equipment, never by brand. */
export interface Preset {
  readonly id: string;
  readonly title: string;
  /** One entry for each parameter of the model. */
  readonly values: Readonly<Record<string, Sourced>>;
}

/** What page, command line and schemas need to know of a model. */
export interface ModelSpec {
  readonly kind: string;
  readonly title: string;
  /** One sentence: what it does to the light. */
  readonly what: string;
  readonly parameters: readonly ParameterSpec[];
  readonly presets: readonly Preset[];
}

/** Values by parameter name, in the units of the parameters. */
export type ParameterValues = Readonly<Record<string, number>>;
