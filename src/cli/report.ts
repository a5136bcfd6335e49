import type { ModelSetting } from '../light/parameters.ts';
import type { Scenario } from '../shot/scenario.ts';
import { sentenceOf } from '../shot/sentence.ts';
import type { PreparedScenario, ShotResult, ShotTicks } from '../shot/shot.ts';
import { type Timing, ticksPerLine, ticksToMs } from '../units/timing.ts';
import { drawTimeline } from './timeline.ts';

const LABELS: readonly (readonly [keyof ShotTicks, string])[] = [
  ['flashOnWire', 'flash leaves the console'],
  ['lightAtSpot', 'light at the spot'],
  ['crossing', 'threshold crossed'],
  ['firstLitRead', 'first read of light'],
  ['lastRead', 'last read before it decided'],
  ['decision', 'decision'],
];

/** A shot as text for a terminal. */
export function shotText(prepared: PreparedScenario, result: ShotResult, shown: { readonly width: number }): string {
  const { scenario, timing } = prepared;
  const { aim, judgement, ticks } = result;
  const lines = [
    `shot ${result.shot + 1} of ${scenario.shots.length}  aim (${aim.x}, ${aim.y})  ${judgement.toUpperCase()}`,
    `  the aim was on ${truthText(result)}; the program said ${saidText(result, timing)}`,
    `  ${'trigger'.padEnd(26)}${ms(timing, ticks.trigger).padStart(11)} ms after power-on`,
  ];
  for (const [name, label] of LABELS) {
    const tick = ticks[name];
    lines.push(
      `  ${label.padEnd(26)}${tick === null ? '          -' : `${`+${ms(timing, tick - ticks.trigger)}`.padStart(11)} ms`}`,
    );
  }
  lines.push(`  ${drawTimeline(result, shown.width - 2)}`, `  ${sentenceOf(result, timing)}`);
  if (result.saidTwice)
    lines.push('  The program said something twice for one shot: correct the program or the probe; the first counts.');
  for (const warning of result.warnings) lines.push(`  warning: ${warning}`);
  return lines.join('\n');
}

/** What is run, in two lines. */
export function scenarioText({ scenario, timing }: PreparedScenario): string {
  return `${scenario.title}\n  ${timing.name} console\n    > ${lightPathText(scenario)}`;
}

function lightPathText({ lightPath }: Scenario): string {
  const part = ({ kind, ...values }: ModelSetting): string => {
    const numbers = Object.entries(values).map(([name, value]) => `${name} ${Number(Number(value).toPrecision(6))}`);
    return numbers.length === 0 ? kind : `${kind} (${numbers.join(', ')})`;
  };
  const { stages, panel, room, optics, sensor } = lightPath;
  return [...stages, panel, room, optics, sensor].map(part).join('\n    > ');
}

function truthText({ truth }: ShotResult): string {
  const shares = truth.shares.map((share) => share.toFixed(3)).join(', ');
  const what =
    truth.kind === 'target' ? `target ${truth.target}` : truth.kind === 'nothing' ? 'nothing' : 'the edge of a target';
  return truth.shares.length === 0 ? what : `${what} (share of the spot ${shares})`;
}

function saidText({ said, ticks }: ShotResult, timing: Timing): string {
  if (said.kind === 'target') return `target ${said.target}`;
  return said.kind === 'none'
    ? 'none'
    : `nothing by its deadline, ${ms(timing, ticks.deadline - ticks.trigger)} ms after the trigger`;
}

const ms = (timing: Timing, ticks: number): string => ticksToMs(timing, ticks).toFixed(3);

/** A shot as plain data for other programs: ticks, and the same instants in ms after the trigger. */
export function shotJson(prepared: PreparedScenario, result: ShotResult): object {
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
    warnings: result.warnings,
  };
}
