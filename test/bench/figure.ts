/** One figure of the bench: `name value unit min|max goal`. A ratio is always taken within one run of the bench. */
export interface Figure {
  readonly name: string;
  readonly value: number;
  readonly unit: string;
  readonly bound: 'min' | 'max';
  readonly goal: number;
}

export const figureLine = ({ name, value, unit, bound, goal }: Figure): string =>
  `${name} ${Number(value.toPrecision(3))} ${unit} ${bound} ${goal}`;

/** The middle of an odd number of values. */
export const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[values.length >> 1]!;
