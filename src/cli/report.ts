import type { ModelSetting } from '../light/parameters.ts';
import type { Explanation } from '../shot/cause/explain.ts';
import { instantsOf } from '../shot/instants.ts';
import type { LightPathSettings } from '../shot/light-path-settings.ts';
import type { PreparedScenario } from '../shot/prepared-scenario.ts';
import { notesOf, sentenceOf, verdictText } from '../shot/sentence.ts';
import type { ShotResult } from '../shot/shot.ts';
import { type Timing, ticksPerLine, ticksToMs } from '../units/timing.ts';
import { drawTimeline } from './timeline.ts';

/** How a shot is shown: characters in a line, and why it was wrong. */
interface Shown {
  readonly width: number;
  readonly explanation: Explanation;
}

/** A shot as text for a terminal. */
export function shotText(prepared: PreparedScenario, result: ShotResult, shown: Shown): string {
  const { scenario, timing } = prepared;
  const { aim, judgement, ticks } = result;
  const lines = [
    `shot ${result.shot + 1} of ${scenario.shots.length}  aim (${aim.x}, ${aim.y})  ${judgement.toUpperCase()}`,
    `  ${verdictText(result, timing)}`,
    `  ${'trigger'.padEnd(28)}${ms(timing, ticks.trigger).padStart(9)} ms after power-on`,
  ];
  for (const { title, ms: at } of instantsOf(result, timing)) {
    lines.push(`  ${title.padEnd(28)}${at === null ? '        -' : `${`+${at.toFixed(3)}`.padStart(9)} ms`}`);
  }
  lines.push(`  ${drawTimeline(result, shown.width - 2)}`, ...sentenceLines(result, shown.explanation, timing));
  return [...lines, ...notesOf(result).flatMap((note) => wrapped(`Note: ${note}`))].join('\n');
}

const REFUSED = 'The program refused its calibration: no shot was taken.';

/** A shot that was not taken. */
export function refusedText({ scenario }: PreparedScenario, shot: number): string {
  const { aim } = scenario.shots[shot]!;
  return `shot ${shot + 1} of ${scenario.shots.length}  aim (${aim.x}, ${aim.y})  REFUSED\n  ${REFUSED}`;
}

/** The same for other programs. */
export const refusedJson = ({ scenario }: PreparedScenario, shot: number): object => ({
  shot: shot + 1,
  aim: scenario.shots[shot]!.aim,
  judgement: 'refused',
  sentence: REFUSED,
});

/** What is run: title, console, the light's way and the hand that holds the wand. */
export function scenarioText({ scenario, timing }: PreparedScenario): string {
  const { title, lightPath, pullsLightPath, hand } = scenario;
  const lines = [title, `  ${timing.name} console`, ...lightPathLines(lightPath)];
  if (pullsLightPath !== undefined) lines.push('  the pulls before the shots', ...lightPathLines(pullsLightPath));
  if (hand !== undefined) lines.push(`  the wand is held by a ${settingText(hand)}`);
  return lines.join('\n');
}

const lightPathLines = ({ stages, panel, room, optics, sensor }: LightPathSettings): string[] =>
  [...stages, panel, room, optics, sensor].map((setting) => `    > ${settingText(setting)}`);

function settingText({ kind, ...values }: ModelSetting): string {
  const numbers = Object.entries(values).map(([name, value]) => `${name} ${Number(Number(value).toPrecision(6))}`);
  return numbers.length === 0 ? kind : `${kind} (${numbers.join(', ')})`;
}

/** What was seen, or, where it was proved, the cause with its cure and what else would have made the shot right. */
function sentenceLines(result: ShotResult, explanation: Explanation, timing: Timing): string[] {
  if (explanation.kind === 'right') return [`  ${sentenceOf(result, timing)}`];
  if (explanation.kind === 'not proved') {
    const tried = explanation.tried.length === 0 ? '' : `; run again with: ${explanation.tried.join('; ')}`;
    return [`  ${sentenceOf(result, timing)}`, ...wrapped(`Cause: not proved${tried}.`)];
  }
  const isPair = explanation.causes[0]!.interventions.length > 1;
  return explanation.causes.flatMap(({ id, sentence, cure, interventions }, i) => [
    ...wrapped(i === 0 ? sentence : `${isPair ? 'And' : 'Or'}: ${sentence}`),
    ...wrapped(`Cause: ${id}, proved by running the shot again with: ${interventions.join(' and ')}.`),
    ...wrapped(`Cure: ${cure.text}`),
  ]);
}

/** Lines no longer than this, where words allow it. Characters. */
const LONGEST_LINE = 150;

function wrapped(text: string): string[] {
  const lines: string[] = [];
  let line = ' ';
  for (const word of text.split(' ')) {
    if (line.length + 1 + word.length > LONGEST_LINE) {
      lines.push(line);
      line = '   ';
    }
    line += ` ${word}`;
  }
  return [...lines, line];
}

const ms = (timing: Timing, ticks: number): string => ticksToMs(timing, ticks).toFixed(3);

/** A shot as plain data for other programs: ticks, and the same instants in ms after the trigger. */
export function shotJson(prepared: PreparedScenario, result: ShotResult, explanation: Explanation): object {
  const { timing } = prepared;
  const { ticks } = result;
  const instants = Object.entries(ticks).map(([name, tick]) => [
    name,
    tick === null ? null : Number(ms(timing, tick - ticks.trigger)),
  ]);
  return {
    shot: result.shot + 1,
    aim: result.aim,
    judgement: result.judgement,
    truth: result.truth,
    said: result.said,
    saidTwice: result.saidTwice,
    ticks,
    msAfterTrigger: Object.fromEntries(instants),
    readCount: result.reads.length,
    flips: result.flips,
    ticksPerSecond: timing.masterNumerator / timing.masterDenominator,
    scanlineUs: ticksToMs(timing, ticksPerLine(timing)) * 1000,
    sentence: sentenceOf(result, timing),
    explanation,
    warnings: result.warnings,
  };
}
