import { cureForForeignCommand } from './foreign-words.ts';
import { Fault, spanOf } from './messages.ts';
import { nearest } from './spelling.ts';
import type { Token } from './token.ts';

const STRUCTURE = 'Write the offsets as constants: "player_x = 0", "player_y = 1".';
const ONE_UNIT = 'There is one source and no linker: use .include for the file that defines the name.';
const TEXT = 'Write the name itself, or give it to the macro as an argument.';
const OTHER_PROCESSOR = 'The console has a 6502: write .setcpu "6502", or "6502X" for its undocumented instructions.';
const ADDRESS = 'The memory map is fixed: choose a segment with .segment; use .res or .align to leave bytes out.';
const CONDITION = 'Use .if with an expression, .ifdef, .ifndef, .ifconst, .ifblank or .ifnblank.';
const STARTUP = 'Call the routine from the reset routine yourself.';
const LEAVE_OUT = 'Leave the line out: it changes nothing here.';
const SIZE = 'Put a label behind the data and subtract: "table_end - table".';

/** Commands and functions that ca65 knows and this assembler does not, with what to write instead. */
const UNSUPPORTED: Readonly<Record<string, string>> = {
  '.struct': STRUCTURE,
  '.endstruct': STRUCTURE,
  '.union': STRUCTURE,
  '.endunion': STRUCTURE,
  '.tag': 'Reserve the bytes with .res.',
  '.enum': 'Write the values as constants: "IDLE = 0", "ARMED = 1".',
  '.endenum': 'Write the values as constants: "IDLE = 0", "ARMED = 1".',
  '.sizeof': SIZE,
  '.import': ONE_UNIT,
  '.importzp': ONE_UNIT,
  '.autoimport': ONE_UNIT,
  '.forceimport': ONE_UNIT,
  '.org': ADDRESS,
  '.reloc': ADDRESS,
  '.data': 'Nothing fills RAM at power-on: put constants into RODATA and variables into BSS or ZEROPAGE.',
  '.feature': 'Write the source without special features: labels with a colon, "*" for the address, ";" for comments.',
  '.linecont': 'Write the statement on one line.',
  '.localchar': 'Cheap local labels begin with "@".',
  '.case': 'Write each name the same way everywhere: capitals count.',
  '.smart': OTHER_PROCESSOR,
  '.a8': OTHER_PROCESSOR,
  '.a16': OTHER_PROCESSOR,
  '.i8': OTHER_PROCESSOR,
  '.i16': OTHER_PROCESSOR,
  '.asize': OTHER_PROCESSOR,
  '.isize': OTHER_PROCESSOR,
  '.psc02': OTHER_PROCESSOR,
  '.pc02': OTHER_PROCESSOR,
  '.p816': OTHER_PROCESSOR,
  '.p4510': OTHER_PROCESSOR,
  '.pushcpu': OTHER_PROCESSOR,
  '.popcpu': OTHER_PROCESSOR,
  '.cpu': OTHER_PROCESSOR,
  '.faraddr': 'Addresses have 16 bits: use .addr; for 24 bits of data write three bytes with .byte <a, >a, ^a.',
  '.bankbytes': 'Write .byte with ^ before each value.',
  '.out': 'Use .warning.',
  '.ifref': CONDITION,
  '.ifnref': CONDITION,
  '.ifp02': CONDITION,
  '.ifp4510': CONDITION,
  '.ifp816': CONDITION,
  '.ifpc02': CONDITION,
  '.ifpsc02': CONDITION,
  '.ref': 'Use .defined.',
  '.referenced': 'Use .defined.',
  '.match': TEXT,
  '.xmatch': TEXT,
  '.ident': TEXT,
  '.concat': TEXT,
  '.string': 'Text is written with .byte "..."; in an expression write the name itself.',
  '.sprintf': TEXT,
  '.left': TEXT,
  '.mid': TEXT,
  '.right': TEXT,
  '.ismnem': TEXT,
  '.ismnemonic': TEXT,
  '.bank': 'There is one memory map without banks: leave it out.',
  '.tcount': 'Use .paramcount or .ifblank.',
  '.strat': "Write the character itself: 'a'.",
  '.time': 'Give the number as a constant, so that every build has the same bytes.',
  '.version': 'Leave the test out.',
  '.delmacro': 'Give the second macro another name.',
  '.delmac': 'Give the second macro another name.',
  '.pushcharmap': 'Set the characters back with .charmap.',
  '.popcharmap': 'Set the characters back with .charmap.',
  '.condes': STARTUP,
  '.constructor': STARTUP,
  '.destructor': STARTUP,
  '.interruptor': STARTUP,
  '.dbg': LEAVE_OUT,
  '.null': LEAVE_OUT,
  '.macpack': 'Write the macros that you need yourself.',
};

export const UNSUPPORTED_NAMES: readonly string[] = Object.keys(UNSUPPORTED);

/** Whether ca65 knows a command that this assembler refuses by its name. */
export const isUnsupported = (name: string): boolean => Object.hasOwn(UNSUPPORTED, name);

/** Refuse a command or function by its name. `known` = names that would be right at this place. */
export function refuseDirective(token: Token, known: readonly string[]): never {
  const name = token.text;
  const cure = isUnsupported(name) ? UNSUPPORTED[name] : undefined;
  if (cure !== undefined) throw new Fault('ASM_UNSUPPORTED', { name, cure }, spanOf(token));
  throw new Fault('ASM_UNKNOWN_COMMAND', { name, cure: cureForUnknown(token, known) }, spanOf(token));
}

function cureForUnknown({ text, source, column, length }: Token, known: readonly string[]): string {
  const foreign = cureForForeignCommand(text);
  if (foreign !== undefined) return foreign;
  const near = nearest(text, known);
  if (near !== undefined) return `Did you mean "${near}"?`;
  if (/^\.[bwl]$/.test(text) && /\w/.test(source.text[column - 1] ?? ''))
    return 'The size of an address stands before it: "lda z:name" for one byte, "lda a:name" for two.';
  if (source.text[column + length] === ':') return `A local label begins with "@": "@${text.slice(1)}:".`;
  return 'The commands are .byte, .word, .res, .segment, .include, .macro and others; a name has no dot.';
}
