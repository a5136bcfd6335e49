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
  IMAGE_WRONG_FILE: {
    message: 'this is no cartridge image: it begins with {found}, expected the four bytes 4E 45 53 1A',
    cure: 'Give an image file with a NES 2.0 header, for instance one made by ld65 from a HEADER segment.',
  },
  IMAGE_TRUNCATED: {
    message: 'the cartridge image has {found} bytes, expected {expected} by its header',
    cure: 'The file is cut short or bytes 4, 5 and 9 of its header say too much: build or copy it again.',
  },
  IMAGE_OVERSIZED: {
    message: 'the cartridge image has {found} bytes, expected {expected} by its header',
    cure: 'Correct the sizes in bytes 4, 5 and 9 of the header, or cut what follows the pattern ROM.',
  },
  IMAGE_UNSUPPORTED: {
    message: 'the cartridge image has {what}, expected {expected}',
    cure: 'This is not modelled: build the program for what is expected here.',
  },
  SCENARIO_NOT_JSON: {
    message: 'the scenario is not JSON: {found}',
    cure: 'Correct the place that is named; JSON wants double quotes and no comma after the last entry.',
  },
  SCENARIO_INVALID: {
    message: 'the scenario is not valid: {issues}',
    cure: 'Change the entries that are named; `latelight help scenario` lists every entry with its range.',
  },
  EXPRESSION_SYNTAX: {
    message: 'the expression "{text}" has {found} at column {column}, expected {expected}',
    cure: 'Write numbers as 12, $0C or %1100, symbols by name, and byte(address) or word(address) to read memory.',
  },
  EXPRESSION_NAME: {
    message: 'the expression "{text}" names {found}, which is not known; expected {expected}',
    cure: 'Give the label file that belongs to the image, or add the name under "symbols" in the scenario.',
  },
  LABELS_INVALID: {
    message: 'line {line} of the label file is "{found}", expected "al 00C000 .name"',
    cure: 'Give the file that `ld65 -Ln` wrote.',
  },
  PROGRAM_JAMMED: {
    message: 'the program jammed the processor: opcode {opcode} at {address}, {ms} ms after power-on',
    cure: 'Opcode {opcode} stops the processor for good. The program counter has left the code, or the image is not what was meant.',
  },
  BOX_MISMATCH: {
    message:
      'in the flash picture the bright rectangle is {found}, expected the target grown by the margin: {expected}',
    cure: 'Set targets.margin to what the program flashes around its target, or correct the target expressions.',
  },
  FILE_UNREADABLE: {
    message: 'cannot read {path}: {found}',
    cure: 'Check the path; paths inside a scenario are taken from the folder of the scenario.',
  },
  USAGE: {
    message: '{found}; expected {expected}',
    cure: 'Run `latelight --help` to see the commands and their options.',
  },
  STATE_FIELD: {
    message: 'field {field} of the saved state is {found}, expected {expected}',
    cure: 'The saved state is damaged or belongs to another scenario: load one that was saved with the same image and timing.',
  },
  CIRCUIT_MEMORY: {
    message: 'circuit {circuit} has {found} bytes of {memory} memory, expected {allowed}',
    cure: 'Build the image with the memory sizes that the circuit has, and give them in its header.',
  },
  SAID_RANGE: {
    message: 'the program said target {found}, expected {allowed}',
    cure: 'Correct said.target in the scenario: its value is the number of the target, counted from 0, or -1 for none.',
  },
  LIGHT_PATH: {
    message: '{what} is {found}, expected {allowed}',
    cure: '{cure}',
  },
} as const satisfies Record<string, CatalogueEntry>;
