#!/usr/bin/env node
import { parseArgs } from 'node:util';
import { LatelightError } from '../errors/latelight-error.ts';
import { nearest } from '../program/assembler/spelling.ts';
import { isCalibrationRefused } from '../shot/calibration.ts';
import { type Explanation, explain } from '../shot/cause/explain.ts';
import { observeShot } from '../shot/cause/observation.ts';
import { isRightJudgement } from '../shot/judgement.ts';
import type { PreparedScenario } from '../shot/prepared-scenario.ts';
import { runShot, Shot, type ShotResult } from '../shot/shot.ts';
import { assemble } from './assemble.ts';
import { assembleHelp } from './assemble-help.ts';
import { openScenario } from './files.ts';
import { flashCheck } from './flash-check.ts';
import { flashCheckHelp } from './flash-check-help.ts';
import { HELP, scenarioHelp } from './help.ts';
import { refusedJson, refusedText, scenarioText, shotJson, shotText } from './report.ts';
import { SHOOT_HELP } from './shoot-help.ts';
import { type SweepEnd, sweep } from './sweep.ts';
import { sweepHelp } from './sweep-help.ts';
import { TIMELINE_LEGEND } from './timeline.ts';

/** Exit statuses, as `--help` lists them. */
const EXIT = { done: 0, refused: 1, usage: 2, notRight: 3, internal: 70, stopped: 130 } as const;

const SWEEP_EXIT: Readonly<Record<SweepEnd, number>> = {
  passed: EXIT.done,
  failed: EXIT.notRight,
  stopped: EXIT.stopped,
};

const OPTIONS = {
  help: { type: 'boolean', short: 'h' },
  json: { type: 'boolean' },
  shot: { type: 'string' },
  output: { type: 'string', short: 'o' },
  labels: { type: 'string' },
  listing: { type: 'string' },
  'require-right': { type: 'boolean' },
  jobs: { type: 'string' },
  out: { type: 'string' },
  resume: { type: 'boolean' },
  csv: { type: 'string' },
  junit: { type: 'string' },
  quiet: { type: 'boolean' },
  'scenario-of': { type: 'string' },
  seconds: { type: 'string' },
  scale: { type: 'string' },
  'pixel-aspect': { type: 'string' },
  profile: { type: 'string' },
  pictures: { type: 'string' },
} as const;

/** The scenario that is being read or run, for messages. */
let currentFile = '';

type Options = ReturnType<typeof readArguments>['values'];

function readArguments(args: string[]) {
  try {
    const read = parseArgs({ args: withNegatives(args), allowPositionals: true, options: OPTIONS, tokens: true });
    const names = read.tokens.flatMap((token) => (token.kind === 'option' ? [token.name] : []));
    const twice = names.find((name, i) => names.indexOf(name) < i);
    if (twice !== undefined)
      throw new LatelightError('USAGE', { found: `--${twice} more than once`, expected: `--${twice} once` });
    return read;
  } catch (error) {
    if (error instanceof LatelightError) throw error;
    throw new LatelightError('USAGE', refusedOption((error as NodeJS.ErrnoException).code, (error as Error).message));
  }
}

/** A number below 0 is the value of the option before it, not an option: the command says what it takes. */
function withNegatives(args: readonly string[]): string[] {
  const joined: string[] = [];
  for (const arg of args) {
    const option = joined[joined.length - 1] ?? '';
    const isValue = /^-[\d.]/.test(arg) && takesValue(option);
    if (isValue) joined.pop();
    joined.push(isValue ? `${option}=${arg}` : arg);
  }
  return joined;
}

function takesValue(arg: string): boolean {
  const name = arg.replace(/^--/, '');
  return (
    arg.startsWith('--') && Object.hasOwn(OPTIONS, name) && OPTIONS[name as keyof typeof OPTIONS].type === 'string'
  );
}

/** What is wrong with an option, in our words. */
function refusedOption(code: string | undefined, message: string): { found: string; expected: string } {
  const option = /'(?:-\w, )?(--?[^' <]+)/.exec(message)?.[1] ?? 'an option';
  if (code !== 'ERR_PARSE_ARGS_INVALID_OPTION_VALUE')
    return { found: message.split('. ')[0]!, expected: expectedOption(message) };
  return message.includes('does not take an argument')
    ? { found: `${option} with a value`, expected: `${option} alone` }
    : { found: `${option} without a value`, expected: `a value after ${option}` };
}

/** What to write instead of an option that is not known. */
function expectedOption(message: string): string {
  const asked = /'(-[^' ]+)/.exec(message)?.[1] ?? '';
  if (asked === '-C') return 'no file for the memory map, which is fixed: see latelight help assemble';
  const near = asked.startsWith('--') ? nearest(asked.slice(2), Object.keys(OPTIONS)) : undefined;
  return near === undefined ? 'options that --help lists' : `"--${near}" or another option that --help lists`;
}

/** Pages of `latelight help TOPIC`, and of the --help of a command. */
const TOPICS: Readonly<Record<string, () => string>> = {
  scenario: scenarioHelp,
  sweep: sweepHelp,
  assemble: assembleHelp,
  shoot: () => SHOOT_HELP,
  'flash-check': flashCheckHelp,
};

function help(topic: string | undefined): number {
  if (topic === undefined) return print(HELP);
  if (Object.hasOwn(TOPICS, topic)) return print(TOPICS[topic]!());
  const expected = `one of ${Object.keys(TOPICS).join(', ')}`;
  throw new LatelightError('USAGE', { found: `there is no help on "${topic}"`, expected });
}

async function main(args: string[]): Promise<number> {
  const { values, positionals } = readArguments(args);
  const [command, ...rest] = positionals;
  if (command === 'help' || command === undefined) return help(rest[0]);
  if (values.help === true) return help(command);
  if (command === 'shoot') return shoot(rest, values);
  if (command === 'assemble') return assemble(rest, values);
  if (command === 'sweep') {
    currentFile = rest[0] ?? '';
    return SWEEP_EXIT[await sweep(rest, values)];
  }
  if (command === 'flash-check') {
    currentFile = rest[0] ?? '';
    return flashCheck(rest, values) ? EXIT.done : EXIT.notRight;
  }
  throw new LatelightError('USAGE', {
    found: `the command "${command}" is not known`,
    expected: 'shoot, sweep, flash-check, assemble or help',
  });
}

function shoot(paths: readonly string[], options: Options): number {
  if (paths.length === 0)
    throw new LatelightError('USAGE', { found: 'no scenario was given', expected: 'at least one file' });
  const documents: object[] = [];
  let allRight = true;
  for (const path of paths) {
    currentFile = path;
    const prepared = openScenario(path);
    const chosen = chosenShots(options.shot, prepared.scenario.shots.length);
    if (options.json !== true) console.log(scenarioText(prepared));
    const shots: object[] = [];
    for (const shot of chosen) {
      if (isCalibrationRefused(prepared, new Shot(prepared, shot))) {
        allRight = false;
        if (options.json === true) shots.push(refusedJson(prepared, shot));
        else console.log(`${refusedText(prepared, shot)}\n`);
        continue;
      }
      const { result, explanation } = explained(prepared, shot);
      allRight &&= isFaultless(result);
      if (options.json === true) shots.push(shotJson(prepared, result, explanation));
      else console.log(`${shotText(prepared, result, { width: 100, explanation })}\n`);
    }
    documents.push({ scenario: path, title: prepared.scenario.title, timing: prepared.timing.id, shots });
  }
  console.log(
    options.json === true ? JSON.stringify({ latelight: 1, scenarios: documents }, null, 2) : TIMELINE_LEGEND,
  );
  return options['require-right'] === true && !allRight ? EXIT.notRight : EXIT.done;
}

/**
 * Run a shot, and explain it where it is not right. A jam after the trigger is a cause like others: the program has said
 * nothing. Errors: as `runShot`; PROGRAM_JAMMED only for a jam before the trigger.
 */
function explained(prepared: PreparedScenario, shot: number): { result: ShotResult; explanation: Explanation } {
  const result = resultUnlessJammed(prepared, shot);
  if (result !== undefined && isRightJudgement(result.judgement)) return { result, explanation: { kind: 'right' } };
  const first = observeShot(prepared, shot);
  return { result: first.result, explanation: explain(first) };
}

function resultUnlessJammed(prepared: PreparedScenario, shot: number): ShotResult | undefined {
  try {
    return runShot(prepared, shot);
  } catch (error) {
    if (error instanceof LatelightError && error.code === 'PROGRAM_JAMMED') return undefined;
    throw error;
  }
}

const isFaultless = ({ judgement, saidTwice }: ShotResult): boolean => isRightJudgement(judgement) && !saidTwice;

function chosenShots(asked: string | undefined, count: number): number[] {
  if (asked === undefined) return Array.from({ length: count }, (_, i) => i);
  const shot = Number(asked);
  if (!Number.isInteger(shot) || shot < 1 || shot > count) {
    throw new LatelightError('USAGE', { found: `--shot ${asked}`, expected: `a whole number from 1 to ${count}` });
  }
  return [shot - 1];
}

function print(text: string): number {
  console.log(text);
  return EXIT.done;
}

/** Say what is wrong and what to do; the exit status tells the kinds of failure apart. */
function report(error: unknown): number {
  if (!(error instanceof LatelightError)) {
    console.error(`latelight: internal: ${(error as Error).stack ?? String(error)}`);
    return EXIT.internal;
  }
  const place =
    currentFile === '' || error.code === 'USAGE' || error.code === 'FILE_UNREADABLE' ? '' : `${currentFile}: `;
  console.error(`latelight: ${place}${error.message}\n  ${error.hint}`);
  if (error.code === 'USAGE') return EXIT.usage;
  return error.code === 'INTERNAL' ? EXIT.internal : EXIT.refused;
}

try {
  process.exitCode = await main(process.argv.slice(2));
} catch (error) {
  process.exitCode = report(error);
}
