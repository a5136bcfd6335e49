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
    cure: 'Change {name} to what is expected.',
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
    cure: '{cure}',
  },
  EXPRESSION_NAME_TWICE: {
    message: 'the expression "{text}" names "{name}", which stands for {values}',
    cure: 'Rename one, or add it under "symbols"; a debug file (ld65 --dbgfile) knows both with their scopes.',
  },
  LABELS_INVALID: {
    message: 'line {line} of the label file{file} is "{found}", expected "al 00C000 .name"',
    cure: 'Give the file that `ld65 -Ln` or `ld65 --dbgfile` wrote.',
  },
  LABELS_EMPTY: {
    message: 'the label file{file} holds no labels',
    cure: 'Assemble with ca65 -g and link with ld65 -Ln, or take "labels" out of the scenario.',
  },
  PROGRAM_JAMMED: {
    message: 'the program jammed the processor: opcode {opcode} at {address}, {ms} ms after power-on',
    cure: 'Opcode {opcode} stops the processor for good. The program counter has left the code, or the image is not what was meant.',
  },
  BOX_MISMATCH: {
    message:
      'in the flash picture the bright rectangle is {found}, expected the target grown by the margin: {expected}',
    cure: 'Set targets.marginDots to what the program flashes around its target, or correct the target expressions.',
  },
  FILE_UNREADABLE: {
    message: 'cannot read {path}: {found}',
    cure: 'Check the path; paths inside a scenario are taken from the folder of the scenario.',
  },
  FILE_LARGE: {
    message: '"{name}" has {found} bytes, expected at most {most}',
    cure: 'This is not the file that is meant: choose another one.',
  },
  FILE_NOT_READ: {
    message: 'the browser cannot read "{name}": {found}',
    cure: 'Choose a file, not a folder, and choose it again if it was changed or moved since.',
  },
  // Files that somebody opens on the page (src/ui).
  FILE_UNKNOWN: {
    message:
      '"{name}" is no file that is read here: it begins with {found}, expected a cartridge image (bytes 4E 45 53 1A), a label or debug file ("al 00C000 .name", "version"), or a JSON object',
    cure: 'Choose what ld65 wrote with -o and with -Ln or --dbgfile, a scenario, or a bench that was saved.',
  },
  FILES_SEVERAL: {
    message: 'found {count} {kind} together ({names}), expected one',
    cure: 'Choose one of them, or a scenario that names the one that is meant.',
  },
  FILE_IS_PLAN: {
    message: '"{name}" is the plan of a lag map, expected an image, labels, a scenario or a saved bench',
    cure: 'Open it on the lag map, with "Open a plan".',
  },
  SOURCE_UNREADABLE: {
    message: 'cannot read {path}: {found}',
    cure: 'Check the path; it is taken from the folder in which the command runs.',
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
  FILE_UNWRITABLE: {
    message: 'cannot write {path}: {found}',
    cure: 'Check that the folder exists and may be written to.',
  },
  // Sweeps (src/sweep).
  PLAN_NOT_JSON: {
    message: '{path} is not JSON: {found}',
    cure: 'Correct the place that is named; JSON wants double quotes and no comma after the last entry.',
  },
  PLAN_INVALID: {
    message: 'the plan is not valid: {issues}',
    cure: 'Change the entries that are named; `latelight help sweep` lists every entry with its range.',
  },
  PLAN_EDGES: {
    message: '{found} of {planned} shots lie on the border of a target, allowed at most {allowed} of them',
    cure: 'Move the aims into the targets or away from them, or say "allowManyEdges": true in the plan; edges are in no rate.',
  },
  LAG_MAP_FILE: {
    message: 'the plan names the file {path}, which is not on this page; expected one of {expected}',
    cure: 'Write the scenario into the plan and name files of this page, or run the plan where its files are: `latelight sweep`.',
  },
  LAG_MAP_RESULTS: {
    message: '{path} holds the results of a sweep; expected its plan',
    cure: 'Open the plan that it was made from; "Save the plan" saves that of the form.',
  },
  LAG_MAP_SIZE: {
    message: 'the plan makes {found}, expected at most {expected} on a map',
    cure: 'Take fewer delays or fewer of what they are crossed with, or run the plan with `latelight sweep`.',
  },
  JOURNAL_OTHER_PLAN: {
    message: '{path} belongs to another plan: its fingerprint is {found}, expected {expected}',
    cure: 'Give another name with --out, or the plan, scenario, image and labels with which it was begun.',
  },
  JOURNAL_BROKEN: {
    message: 'line {line} of {path} is {found}, expected a cell of the sweep with its checksum',
    cure: 'The file was changed or damaged after it was written: move it away and run the sweep again.',
  },
  JOURNAL_EXISTS: {
    message: '{path} is there already',
    cure: 'Go on with it by --resume, or give another name with --out.',
  },
  WORKER_LOST: {
    message: 'cell {cell} ended {found} workers, allowed {allowed}',
    cure: 'A worker that ends by itself has usually run out of memory: run with fewer jobs; then run again with --resume.',
  },
  // The assembler (src/program/assembler): each with file, line and column.
  ASM_FILE: {
    message: 'there is no file "{name}"; tried: {tried}',
    cure: 'Correct the name; paths are taken from the folder of the file that names it, then of those that include that file.',
  },
  ASM_NOT_TEXT: {
    message: 'the file "{name}" holds a byte 0, expected text',
    cure: 'Name a file of source text; take binary data in with .incbin.',
  },
  ASM_CHARACTER: {
    message: '{found} has no meaning here, expected a name, a number, a command or an operator',
    cure: '{cure}',
  },
  ASM_STRING_OPEN: {
    message: 'the string has no closing double quote on its line',
    cure: 'Put a double quote behind its last character; inside a string write the number $22 instead.',
  },
  ASM_STRING_CHARACTER: {
    message: 'the string holds {found}, expected characters of ASCII',
    cure: 'Write its bytes as numbers: .byte "abc", $80.',
  },
  ASM_CHARACTER_CONSTANT: {
    message: "{found} is no character, expected one character of ASCII between single quotes, as 'a'",
    cure: 'Close it with a single quote, or use double quotes for a string in .byte.',
  },
  ASM_NUMBER: {
    message: '{found} is no number, expected decimal digits, $ with hexadecimal ones or % with binary ones',
    cure: '{cure}',
  },
  ASM_NUMBER_LARGE: {
    message: 'the number {found} has more than 32 bits',
    cure: 'Write a number up to $FFFFFFFF.',
  },
  ASM_RESULT_LARGE: {
    message:
      'the number {found} is too large on the way, expected 32 bits and no shift of a negative number to the right',
    cure: 'Mask the numbers first: "(a & $FFFF) >> 4".',
  },
  ASM_SHIFT: {
    message: 'the shift {found} is by less than 0 or more than 63 bits',
    cure: 'Shift by 0 to 63 bits.',
  },
  ASM_DIVISION: {
    message: '{found} is a division by zero',
    cure: 'Correct the divisor.',
  },
  ASM_SYNTAX: {
    message: 'found {found}, expected {expected}',
    cure: '{cure}',
  },
  ASM_UNKNOWN_INSTRUCTION: {
    message: '"{name}" is neither an instruction nor a macro',
    cure: '{cure}',
  },
  ASM_UNDOCUMENTED: {
    message: '{name} is an undocumented instruction, and the processor is set to "6502"',
    cure: 'Write .setcpu "6502X" above it.',
  },
  ASM_OTHER_NAME: {
    message: '{name} is not the name that ca65 knows for this instruction',
    cure: 'Write {other}, which makes the same bytes in both assemblers.',
  },
  ASM_UNKNOWN_COMMAND: {
    message: '"{name}" is not a command',
    cure: '{cure}',
  },
  ASM_UNSUPPORTED: {
    message: '"{name}" is not supported here',
    cure: '{cure}',
  },
  ASM_PROCESSOR: {
    message: 'the processor is "{name}", expected "6502" or "6502X"',
    cure: 'The console has a 6502: write .setcpu "6502", or "6502X" for its undocumented instructions.',
  },
  ASM_FORM: {
    message: '{name} has no {form}, expected {forms}',
    cure: '{cure}',
  },
  ASM_NOT_ZERO_PAGE: {
    message: 'the address is not in the zero page, expected $00 to $FF for {form}',
    cure: 'Put the variable into the segment ZEROPAGE{other}.',
  },
  ASM_RANGE: {
    message: '{what} is {found}, expected {low} to {high}',
    cure: '{cure}',
  },
  ASM_ADDRESS_AS_WORD: {
    message: 'a part of this address is a number of more than 16 bits, expected a word',
    cure: 'Write .loword(...) around the calculation.',
  },
  ASM_ADDRESS_AS_BYTE: {
    message: 'the address {found} stands where a byte is expected',
    cure: 'Write "<" before it for its low byte or ">" for its high byte; brackets around a calculation: "<(a+1)".',
  },
  ASM_BRANCH_RANGE: {
    message: 'the branch goes {distance} bytes {direction}, the limit is {limit}',
    cure: 'Turn the condition round and jump: "{opposite} near", "jmp {target}", "near:".',
  },
  ASM_BRANCH_ELSEWHERE: {
    message: 'the branch goes to {found}, expected a label in its own segment {segment}',
    cure: 'Branch to a label of the same segment; use JMP for any other address.',
  },
  ASM_JUMP_PAGE: {
    message:
      'the pointer of the jump lies at {found}: a 6502 takes its high byte from {next}, the beginning of the same page',
    cure: 'Move the pointer by one byte, so that both of its bytes lie in one page.',
  },
  ASM_SYMBOL_UNDEFINED: {
    message: '"{name}" is not defined{where}',
    cure: '{cure}',
  },
  ASM_SYMBOL_TWICE: {
    message: '"{name}" is defined already, at {file}:{line}',
    cure: '{cure}',
  },
  ASM_EXPORT_TWICE: {
    message: '"{name}" is exported already, by the symbol at {file}:{line}',
    cure: 'Export one of them only, or give one another name.',
  },
  ASM_EXPORT_VARIABLE: {
    message: '"{name}" is a variable (.set), which cannot be exported',
    cure: 'Define it with "=", or take the .export out.',
  },
  ASM_SYMBOL_CIRCULAR: {
    message: '"{name}" is defined by itself',
    cure: 'Give it a value that does not depend on it; a value that changes on the way is written "{name} .set value".',
  },
  ASM_UNNAMED_LABEL: {
    message: '"{found}" leads to no label, expected a line with ":" in that direction',
    cure: 'Put ":" before the instruction that is meant; each "+" or "-" counts one such label.',
  },
  ASM_CONSTANT: {
    message: '{what} depends on an address that is not known yet, expected a constant',
    cure: 'Use numbers, constants and differences of labels of one segment that stand above this line.',
  },
  ASM_CONSTANT_LATER: {
    message: '{what} needs "{name}", which is not defined above this line',
    cure: 'Define it further up, or correct its name.',
  },
  ASM_CONSTANT_OUTER: {
    message: '{what} needs "{name}" of an outer scope, but this scope may still define its own "{name}"',
    cure: 'Say which one is meant: "{path}".',
  },
  ASM_SCOPE_UNKNOWN: {
    message: 'there is no scope "{name}" above this line',
    cure: '{cure}',
  },
  ASM_SCOPE_TWICE: {
    message: 'there is a scope "{name}" already, at {file}:{line}',
    cure: 'Give one of them another name.',
  },
  ASM_BLOCK_OPEN: {
    message: '{name} is never closed, expected {end}',
    cure: 'Put {end} where the block ends{hint}.',
  },
  ASM_BLOCK_CLOSE: {
    message: '{name} closes nothing, expected an open {begin} before it',
    cure: 'Take it out, or put {begin} where the block begins; blocks inside each other end in turn, the inner one first.',
  },
  ASM_ELSE_TWICE: {
    message: '{name} after .else, expected .endif',
    cure: 'Put .else last, once; use .elseif for more branches.',
  },
  ASM_SEGMENT_UNKNOWN: {
    message: 'there is no segment "{name}"',
    cure: '{cure}',
  },
  ASM_SEGMENT_SIZE: {
    message: 'this is not the size of addresses in the segment "{name}"',
    cure: 'Leave the size out: every segment has its own.',
  },
  ASM_SEGMENT_MISSING: {
    message: 'the program ends here without a segment "{name}"',
    cure: 'Add it: .segment "{name}" with {example}.',
  },
  ASM_SEGMENT_FULL: {
    message: 'the segment "{name}" is {length} bytes long, there is room for {room}: {excess} too many',
    cure: 'Take bytes out of it from this line on, or move them to another segment.',
  },
  ASM_SEGMENT_DATA: {
    message: 'there are instructions or data in the segment "{name}", expected .res only',
    cure: 'Nothing fills RAM at power-on: reserve bytes with .res and fill them by instructions, or put the data into RODATA.',
  },
  ASM_ALIGNMENT: {
    message: 'the line after .align {to} has the address {found}, because the segment "{name}" begins at {start}',
    cure: 'Align to 256 or a part of it, in CODE or OAM, whose beginnings are multiples of 256.',
  },
  ASM_MACRO_NAME: {
    message: '"{name}" is an instruction, expected a new name for the macro',
    cure: 'Give the macro another name.',
  },
  ASM_MACRO_TWICE: {
    message: 'there is a macro "{name}" already',
    cure: 'Give one of them another name.',
  },
  ASM_MACRO_INSIDE: {
    message: 'there is a .macro inside a macro',
    cure: 'Define it outside; one macro may call the other.',
  },
  ASM_PARAMETER_TWICE: {
    message: 'the macro has two parameters "{name}"',
    cure: 'Give one of them another name.',
  },
  ASM_ARGUMENTS: {
    message: 'there are more arguments than the macro "{name}" has parameters: {count} ({parameters})',
    cure: 'Take the argument out; put braces around an argument that holds commas: "{table,x}".',
  },
  ASM_ARGUMENT_MISSING: {
    message: 'the macro "{name}" got {count} of {wanted} arguments: "{parameter}" is empty',
    cure: 'Write the argument where the macro is called, or test for it with .ifblank.',
  },
  ASM_ONLY_IN_MACRO: {
    message: '{name} stands outside of a macro',
    cure: 'Use it between .macro and .endmacro only.',
  },
  ASM_DEFINE_TWICE: {
    message: 'there is a .define "{name}" already',
    cure: 'Give one of them another name, or write .undef {name} first.',
  },
  ASM_DEFINE_SELF: {
    message: 'the text of the .define "{name}" leads back to "{name}"',
    cure: 'Give the text another name; a value that changes on the way is written "{name} .set value".',
  },
  ASM_DEFINE_UNKNOWN: {
    message: 'there is no .define "{name}" to take back',
    cure: 'Take the line out, or correct the name.',
  },
  ASM_INCLUDE_INSIDE: {
    message: 'there is an .include inside a macro or a repetition',
    cure: 'Put it outside: include the file once and use a macro of it.',
  },
  ASM_INCLUDE_LOOP: {
    message: 'the file "{name}" includes itself',
    cure: 'Take the .include out, here or in a file between.',
  },
  ASM_ASSERT: {
    message: 'the assertion {found} does not hold{text}',
    cure: 'Correct what it is about, or the assertion itself.',
  },
  ASM_SAID: {
    message: '{text}',
    cure: 'The source itself says so: see the conditions around the line.',
  },
  ASM_LIMIT: {
    message: '{what}: more than {limit}',
    cure: 'This is more than a program needs: look for a macro or a repetition without an end.',
  },
  ASM_TOO_MANY: {
    message: 'there are more than {count} errors, the rest is not listed',
    cure: 'Correct the first ones and assemble again.',
  },
  ASM_CYCLES: {
    message: 'these lines take {found} cycles, the note says {expected}',
    cure: '{cure}',
  },
  ASM_CYCLES_LOOP: {
    message: 'the cycles cannot be counted: how often the branch {where} goes back is not known',
    cure: 'Load the counter with a number inside the noted lines, or note one round of the loop only.',
  },
  ASM_CYCLES_LONG: {
    message: 'the cycles cannot be counted: no end after {limit} instructions, {where}',
    cure: 'Note a shorter stretch, or correct the loop.',
  },
  ASM_CYCLES_NO_CODE: {
    message: 'the cycles cannot be counted: the way leads to {address}, {where}, where the program has no code',
    cure: 'Note instructions of the program only, subroutines with their RTS included.',
  },
  ASM_CYCLES_UNKNOWN: {
    message: 'the cycles cannot be counted: {what} {where}',
    cure: 'Leave the instruction out of the noted lines, or let it be the last one.',
  },
  ASM_CYCLES_NO_END: {
    message: 'the cycles cannot be counted: no way through the noted lines reaches their end',
    cure: 'Put "; to here" behind the last instruction that is meant.',
  },
  ASM_NOTE_OPEN: {
    message: 'this note of cycles has no end',
    cure: 'Put the comment "; to here" behind the last instruction that is meant.',
  },
  ASM_NOTE_CLOSE: {
    message: '"to here" ends no note of cycles: nothing is checked',
    cure: 'Put "; exactly 14 cycles from here", with the right number, where the lines begin, or change the comment.',
  },
  ASM_NOTE_CALL: {
    message: '"to here" stands behind a macro or a repetition, whose lines follow it',
    cure: 'Put "; to here" on the next line.',
  },
  ASM_NOTE_SEGMENT: {
    message: 'a note of cycles begins in the segment "{from}" and ends in "{to}"',
    cure: 'Put both comments around lines of one segment.',
  },
  ASM_NOTE_MISSPELT: {
    message: 'this comment looks like a note of cycles, but is none: nothing is checked',
    cure: 'Write "; exactly 14 cycles from here" or "; 0 to 14 cycles from here", least and most, and "; to here", each alone; or change the comment.',
  },
  ASM_BRANCH_PAGE: {
    message: 'when this branch is taken, it goes to another page and takes 4 cycles instead of 3',
    cure: 'This is counted, but may change when code is moved: put .align before the noted lines.',
  },
  ASM_ZEROPAGE_LATE: {
    message: 'absolute addressing was chosen, because the address in the zero page is only known further down',
    cure: 'Define the symbol above this line, or write "z:" before the operand: one byte and one cycle less.',
  },
  ASM_PLAIN_ADDRESS: {
    message: 'the number {found} is used as an address in the zero page',
    cure: 'Write "#{found}" if the number itself is meant; give an address a name, or write it with "$" or "z:".',
  },
  ASM_HEADER_LENGTH: {
    message: 'the segment "HEADER" has {found} bytes, expected 16: zeros follow',
    cure: 'Write all 16 bytes of the NES 2.0 header.',
  },
  ASM_IMAGE_REFUSED: {
    message: 'no shot will accept this image: {found}',
    cure: 'Correct the header: .byte $4E, $45, $53, $1A, 2, 1, 0, 8, two 16 KiB units of program, one 8 KiB unit of patterns, circuit 0.',
  },
  ASM_MISSING_HASH: {
    message: 'one byte of an address is used as an address in the zero page',
    cure: 'Write "#" before it if the number is meant: "lda #<table".',
  },
  DEBUG_FILE_VERSION: {
    message: 'the debug file{file} has version {found}, expected version 2',
    cure: 'Make it with ld65 of cc65 2.19, option --dbgfile, or give a label file instead.',
  },
  DEBUG_FILE_INVALID: {
    message: 'line {line} of the debug file{file} has {found}, expected {expected}',
    cure: 'Give the file as `ld65 --dbgfile` wrote it, from objects that `ca65 -g` made.',
  },
  MOMENT_INVALID: {
    message: 'this is no usable moment: {found}',
    cure: 'Save the moment again with this version of Latelight; a moment cannot be repaired by hand.',
  },
  NO_SHOT: {
    message: 'no shot has been judged yet, expected one whose time can be looked at',
    cure: 'Pull the trigger first.',
  },
  SHOT_NOT_KEPT: {
    message: 'shot {shot} is no longer there, expected one of the latest or the one that is kept for comparison',
    cure: 'Play it again to look at it closer.',
  },
  NO_LIVE_TARGET: {
    message:
      'no target was live for {needed} s in the first {watched} s after power-on, expected one that can be shot at',
    cure: 'Give the scenario "shots" with an instant (atMs), or "pads" that press what leads to a scene with targets; see to targets.isLive, too.',
  },
  CALIBRATION_REFUSED: {
    message: 'the program has refused to calibrate on this light ({expression}), so there was no target to shoot at',
    cure: 'Change the light, for example less delay or a sensor that sees the panel, or the aim of the calibration, and shoot again.',
  },
  SHOT_WITHOUT_TARGET: {
    message:
      'no target was live when the trigger was pulled, {found} ms after power-on, expected one that can be shot at',
    cure: 'Shoot at another instant (atMs), or see to what leads there (pads, pulls) and to targets.isLive.',
  },
  SHOT_TOO_EARLY: {
    message:
      'the trigger is pulled {found} ms after power-on, expected a time at which the glass shows a picture: {expected} ms or later',
    cure: 'Shoot later (atMs), or take delay out of the light path.',
  },
} as const satisfies Record<string, CatalogueEntry>;
