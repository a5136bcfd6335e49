import { type AddressMode, type Mnemonic, OPCODES, type OpcodeSpec } from '../../references/opcodes.ts';

/**
 * Mnemonics as they are written, with the opcode of each form. An opcode that exists twice is taken in its documented
 * form, else the lower one, as ca65 does. Names of undocumented instructions are those of ca65 2.19: two differ from the
 * opcode table, because that is what makes the same bytes in both assemblers.
 */
export type Forms = ReadonlyMap<AddressMode, OpcodeSpec>;

/** Names of the opcode table that ca65 does not know, with the name that it knows. */
const WRITTEN: Readonly<Partial<Record<Mnemonic, string>>> = { SBX: 'AXS', LXA: 'LAX' };

/** Names in use elsewhere for the same instructions, with the name that both assemblers know. */
const OTHER_NAMES: Readonly<Record<string, string>> = {
  ...WRITTEN,
  AHX: 'SHA',
  ASR: 'ALR',
  ATX: 'LAX',
  DCM: 'DCP',
  DOP: 'NOP',
  HLT: 'JAM',
  INS: 'ISC',
  ISB: 'ISC',
  KIL: 'JAM',
  LAE: 'LAS',
  LSE: 'SRE',
  SHS: 'TAS',
  TOP: 'NOP',
  USBC: 'SBC',
  XAA: 'ANE',
};

function collect(isWanted: (spec: OpcodeSpec) => boolean): Map<string, Map<AddressMode, OpcodeSpec>> {
  const result = new Map<string, Map<AddressMode, OpcodeSpec>>();
  for (const spec of OPCODES.filter(isWanted)) {
    const name = WRITTEN[spec.mnemonic] ?? spec.mnemonic;
    const forms = result.get(name) ?? new Map<AddressMode, OpcodeSpec>();
    const known = forms.get(spec.mode);
    if (known === undefined || (spec.documented && !known.documented)) forms.set(spec.mode, spec);
    result.set(name, forms);
  }
  return result;
}

const DOCUMENTED = collect(({ documented }) => documented);
const ALL = collect(() => true);

/** The forms of a mnemonic in capitals, or undefined. `isExtended` = with undocumented opcodes. */
export const formsOf = (mnemonic: string, isExtended: boolean): Forms | undefined =>
  (isExtended ? ALL : DOCUMENTED).get(mnemonic);

/** Whether a mnemonic exists, documented or not. */
export const isAnyMnemonic = (mnemonic: string): boolean => ALL.has(mnemonic);

/** The name that both assemblers know for an instruction that has several, or undefined. */
export function writtenName(mnemonic: string): string | undefined {
  return Object.hasOwn(OTHER_NAMES, mnemonic) ? OTHER_NAMES[mnemonic] : undefined;
}

export const mnemonics = (isExtended: boolean): Iterable<string> => (isExtended ? ALL : DOCUMENTED).keys();

/** How a form is written, for error messages. */
// biome-ignore format: one row
const SYNTAX: Readonly<Record<AddressMode, string>> = {
  implied: '', accumulator: 'a', immediate: '#value', relative: 'label', zeroPage: 'zeropage', zeroPageX: 'zeropage,x',
  zeroPageY: 'zeropage,y', absolute: 'address', absoluteX: 'address,x', absoluteY: 'address,y', indirect: '(address)',
  indexedIndirect: '(zeropage,x)', indirectIndexed: '(zeropage),y',
};

const ORDER = Object.keys(SYNTAX) as AddressMode[];

/** Every form of a mnemonic as it is written, `lda #value, lda zeropage, ...`; or those of some modes only. */
export function syntaxOf(mnemonic: string, forms: Forms, modes: readonly AddressMode[] = ORDER): string {
  const own = modes.filter((mode) => forms.has(mode));
  return own.map((mode) => `${mnemonic.toLowerCase()} ${SYNTAX[mode]}`.trimEnd()).join(', ');
}
