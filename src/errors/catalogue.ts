/**
 * Every error of the project: what was found and expected, and what to do.
 * `{slots}` are filled from the error's details.
 */
export interface CatalogueEntry {
  readonly message: string;
  readonly cure: string;
}

export type ErrorCode = keyof typeof CATALOGUE;

export const CATALOGUE = {
  INTERNAL: {
    message: 'internal: {what}',
    cure: 'This is a fault of Latelight itself: please report it with the scenario and its seed.',
  },
  PARAM_RANGE: {
    message: '{name} is {found}, expected {allowed}',
    cure: 'Give {name} a value within {allowed}.',
  },
} as const satisfies Record<string, CatalogueEntry>;
