import { CATALOGUE, type ErrorCode } from './catalogue.ts';

/** Plain data only: it has to survive a structured clone. */
export type ErrorDetails = Readonly<Record<string, string | number | boolean | null>>;

/**
 * The one error class of the project.
 *
 * `message` says what was found and what was expected, `hint` what to do. Test `code`, not the class: the class is lost
 * when an error crosses a worker.
 */
export class LatelightError extends Error {
  readonly code: ErrorCode;
  readonly details: ErrorDetails;
  readonly hint: string;

  constructor(code: ErrorCode, details: ErrorDetails = {}) {
    const entry = CATALOGUE[code];
    super(fill(entry.message, details));
    this.name = 'LatelightError';
    this.code = code;
    this.details = details;
    this.hint = fill(entry.cure, details);
  }
}

/** The error that this throws, in a list, if it is one of our own. */
export function errorsOf(run: () => unknown): LatelightError[] {
  try {
    run();
    return [];
  } catch (error) {
    if (error instanceof LatelightError) return [error];
    throw error;
  }
}

/** Replace each `{name}` by the detail of that name; a name without a detail stays visible. */
function fill(template: string, details: ErrorDetails): string {
  return template.replace(/\{(\w+)\}/g, (slot, name: string) => (name in details ? String(details[name]) : slot));
}
