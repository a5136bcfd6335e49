import { errorsOf, type LatelightError } from '../errors/latelight-error.ts';
import type { TargetRectangle } from '../picture/picture.ts';
import { compileExpression, type Expression, type ExpressionNames } from '../program/expression.ts';
import type { Symbols } from '../program/labels.ts';
import { unknownName } from '../program/symbol-file.ts';
import type { Scenario } from './scenario.ts';

type Peek = (address: number) => number;

/** How the bench learns where the targets are and what the program said. */
export interface Probes {
  /** The targets as the program has them in memory at this moment. */
  targets(peek: Peek): TargetRectangle[];
  /** The access that says something. */
  readonly saidOn: 'write' | 'fetch';
  readonly saidAt: number;
  /** What an access at `saidAt` says: the number of a target, or -1 for none. */
  said(peek: Peek, value: number): number;
  /** The program has refused to calibrate: no shot can be taken; only where the scenario says how it tells that. */
  readonly refusesCalibration?: (peek: Peek) => boolean;
}

/** The expressions of a scenario, each with the names that a run provides. */
const expressionsOf = ({ targets, said, calibration }: Scenario): readonly (readonly [string, readonly string[]])[] => [
  ...[targets.isLive, targets.x, targets.y, targets.width, targets.height, targets.boxX, targets.boxY].flatMap(
    (text) => (text === undefined ? [] : [[text, ['i']] as const]),
  ),
  [said.target, ['value']],
  ...(calibration?.refused === undefined ? [] : [[calibration.refused, []] as const]),
];

/** Everything that is wrong with the probes of a scenario: what `compileProbes` would throw, and what comes after that. */
export function probeFaults(scenario: Scenario, symbols: Symbols): LatelightError[] {
  const { said, calibration } = scenario;
  return [
    ...expressionsOf(scenario).map(
      ([text, variables]) =>
        () =>
          compileExpression(text, namesOf(symbols, variables)),
    ),
    ...[said.at, ...(calibration === undefined ? [] : [calibration.at])].map((name) => () => addressOf(name, symbols)),
  ].flatMap(errorsOf);
}

/** Compile the probes of a scenario. Errors: EXPRESSION_SYNTAX, EXPRESSION_NAME. */
export function compileProbes(scenario: Scenario, symbols: Symbols): Probes {
  const compile = (text: string, variables: readonly string[]): Expression =>
    compileExpression(text, namesOf(symbols, variables));
  const { targets, said, calibration } = scenario;
  const isLive = compile(targets.isLive, ['i']);
  const x = compile(targets.x, ['i']);
  const y = compile(targets.y, ['i']);
  const width = compile(targets.width, ['i']);
  const height = compile(targets.height, ['i']);
  const boxX = targets.boxX === undefined ? undefined : compile(targets.boxX, ['i']);
  const boxY = targets.boxY === undefined ? undefined : compile(targets.boxY, ['i']);
  const target = compile(said.target, ['value']);
  const refused = calibration?.refused === undefined ? undefined : compile(calibration.refused, []);
  return {
    targets: (peek) =>
      Array.from({ length: targets.count }, (_, i) => {
        const scene = { peek, variables: { i } };
        const rectangle = { x: x(scene), y: y(scene), width: width(scene), height: height(scene) };
        const isTargetLive = isLive(scene) !== 0;
        if (boxX === undefined && boxY === undefined) return { isLive: isTargetLive, ...rectangle };
        const box = {
          x: boxX === undefined ? rectangle.x - targets.marginDots : boxX(scene),
          y: boxY === undefined ? rectangle.y - targets.marginDots : boxY(scene),
        };
        return { isLive: isTargetLive, ...rectangle, box };
      }),
    saidOn: said.on,
    saidAt: canonical(addressOf(said.at, symbols)),
    said: (peek, value) => target({ peek, variables: { value } }),
    ...(refused === undefined ? {} : { refusesCalibration: (peek: Peek) => refused({ peek, variables: {} }) !== 0 }),
  };
}

const namesOf = (symbols: Symbols, variables: readonly string[]): ExpressionNames => ({
  valueOf: (name) => symbols.get(name),
  symbols,
  variables,
});

/** RAM has four addresses a cell: the lowest stands for all. */
const canonical = (address: number): number => (address < 0x2000 ? address & 0x7ff : address);

/** A place that a scenario names, by its number or by a symbol. Error: EXPRESSION_NAME. */
export function addressOf(name: number | string, symbols: Symbols): number {
  if (typeof name === 'number') return name;
  const address = symbols.get(name);
  if (address === undefined || address > 0xffff) throw unknownName(name, name, symbols);
  return address;
}
