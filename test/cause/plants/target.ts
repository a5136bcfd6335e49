import { readFileSync } from 'node:fs';
import { assembleProgram } from '../../../src/program/assembler/assembler.ts';
import { symbolValues } from '../../../src/program/program-symbols.ts';
import { type PreparedScenario, prepareScenario } from '../../../src/shot/prepared-scenario.ts';
import { checkScenario } from '../../../src/shot/scenario.ts';

/** The constants of target.s, each with the value that makes it First Light. */
export const FIRST_LIGHT = {
  LAMP_X: 120,
  LAMP_Y: 104,
  SPEED: 0,
  REWIND: 0,
  DEBOUNCE: 0,
  BLACK_FRAMES: 1,
  BOX_FRAMES: 1,
  SKIP_FRAMES: 0,
  LOOK_FRAMES: 1,
  POLL_WAIT: 0,
  DECOYS: 0,
  NMI_WASTE: 0,
  CONTROL: 0x80,
  JAM_AT: 0,
  LIGHT_PORT: 0x4017,
  LIT: 0,
  SKY: 0x0f,
  LAMP: 0x07,
  BOX: 0x20,
  LAST_DARK: 0,
  SKIP_DARK: 0,
  PAD_STOPS: 0,
};

export type Constants = typeof FIRST_LIGHT;
export type ConstantName = keyof Constants;

const SOURCE = readFileSync('test/cause/plants/target.s', 'utf8');

interface Assembled {
  readonly image: Uint8Array;
  readonly symbols: Readonly<Record<string, number>>;
}

const assembled = new Map<string, Assembled>();

/** The program with these constants. */
function assembleTarget(constants: Constants): Assembled {
  const head = Object.entries(constants).map(([name, value]) => `${name} = ${value & 0xffff}`);
  const key = head.join('\n');
  const known = assembled.get(key);
  if (known !== undefined) return known;
  const { image, errors, symbols } = assembleProgram('target.s', {
    readText: () => `${key}\n${SOURCE}`,
    readBytes: () => undefined,
  });
  if (image === null) throw new Error(errors.map(({ text }) => text).join('\n'));
  const values = symbolValues(symbols);
  const names = ['lampX', 'lampY', 'verdict', 'boxX', 'boxY', 'stands'];
  const made = { image, symbols: Object.fromEntries(names.map((name) => [name, values.get(name)!])) };
  if (assembled.size > 500) assembled.clear();
  assembled.set(key, made);
  return made;
}

/** Everything of a scenario but the program. */
export interface Setting {
  readonly constants: Constants;
  /** Entries of the scenario document. */
  readonly document: Readonly<Record<string, unknown>>;
}

const BASE = {
  scenario: 1,
  title: 'a target',
  image: 'target.bin',
  targets: {
    count: 1,
    x: 'byte(lampX)',
    y: 'byte(lampY)',
    width: '16',
    height: '16',
    marginDots: 4,
  },
  said: { on: 'write', at: 'verdict', target: 'value - 1' },
  deadlineFrames: 24,
};

/** A scenario of the target program. A moving one tells its box. */
export function prepareTarget({ constants, document }: Setting): PreparedScenario {
  const { image, symbols } = assembleTarget(constants);
  const targets = constants.SPEED === 0 ? BASE.targets : { ...BASE.targets, boxX: 'byte(boxX)', boxY: 'byte(boxY)' };
  return prepareScenario(checkScenario({ ...BASE, targets, symbols, timing: '60hz', ...document }), { image });
}
