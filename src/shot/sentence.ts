import { type Timing, ticksToMs } from '../units/timing.ts';
import { flashReadOf } from './instants.ts';
import type { ShotResult } from './shot.ts';

/**
 * One sentence with the numbers that matter for this shot: how the light of the flash and the reads of the program lay to
 * each other. Not a cause: nothing was run again.
 */
export function sentenceOf(result: ShotResult, timing: Timing): string {
  const span = (ticks: number): string => spanText(ticksToMs(timing, ticks));
  switch (result.said.kind) {
    case 'target':
      return sentenceOfTarget(result, span);
    case 'none':
      return sentenceOfNone(result, span);
    default:
      return `The program said nothing by its deadline. ${arrivalText(result, span)}.`;
  }
}

/** What the aim was on, and what the program said. */
export function verdictText({ truth, said, ticks }: ShotResult, timing: Timing): string {
  const shares = truth.shares.map((share) => share.toFixed(3)).join(', ');
  const on =
    truth.kind === 'target' ? `target ${truth.target}` : truth.kind === 'nothing' ? 'nothing' : 'the edge of a target';
  const deadline = ticksToMs(timing, ticks.deadline - ticks.trigger).toFixed(3);
  const answer =
    said.kind === 'target'
      ? `target ${said.target}`
      : said.kind === 'none'
        ? 'none'
        : `nothing by its deadline, ${deadline} ms after the trigger`;
  return `the aim was on ${on}${truth.shares.length === 0 ? '' : ` (share of the spot ${shares})`}; the program said ${answer}`;
}

/** What else somebody should know of a shot, a sentence each. */
export const notesOf = ({ saidTwice, warnings }: Pick<ShotResult, 'saidTwice' | 'warnings'>): string[] => [
  ...(saidTwice
    ? ['The program said something twice for one shot: correct the program or the probe; the first counts.']
    : []),
  ...warnings.map((warning) => `${capital(warning)}.`),
];

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

type Span = (ticks: number) => string;

function sentenceOfTarget(result: ShotResult, span: Span): string {
  const { crossing, firstLitRead, flashOnWire, trigger } = result.ticks;
  if (firstLitRead === null) return 'The program said a target although no read since the trigger saw light.';
  if (flashOnWire === null)
    return `The program read light ${span(firstLitRead - trigger)} after the trigger, but the aim was in no box that it flashed.`;
  const flashRead = flashReadOf(result);
  if (crossing === null || flashRead === null) {
    return `${arrivalText(result, span)}; the program's first read of light was ${afterText(firstLitRead - flashOnWire, span)}: that light is not from this flash.`;
  }
  const before = firstLitRead < crossing ? ', after other light that it had read before' : '';
  return `${arrivalText(result, span)}; the program read it ${span(flashRead - crossing)} later${before}.`;
}

function sentenceOfNone(result: ShotResult, span: Span): string {
  const { crossing, firstLitRead, flashOnWire, lastRead } = result.ticks;
  const sawLight = firstLitRead === null ? 'no read saw light' : 'some reads saw light all the same';
  if (result.truth.kind === 'nothing') return `The aim was on nothing, and ${sawLight}.`;
  if (flashOnWire === null)
    return `No picture after the trigger had the box of the aimed target in it, and ${sawLight}.`;
  const arrival = arrivalText(result, span);
  if (crossing === null) return `${arrival}.`;
  if (lastRead === null) return `${arrival}; the program did not read the port between the trigger and its decision.`;
  if (lastRead < crossing) {
    return `${arrival}; the program's last read was ${afterText(lastRead - flashOnWire, span)}: ${span(crossing - lastRead)} too early.`;
  }
  if (firstLitRead === null) return `${arrival}, but the light bit was dark again at every read.`;
  return `${arrival}; the program read light and said none.`;
}

function arrivalText({ ticks }: ShotResult, span: Span): string {
  const { flashOnWire, crossing } = ticks;
  if (flashOnWire === null) return 'No picture after the trigger had the box of the aimed target in it';
  if (crossing === null)
    return 'Light from this flash did not cross the threshold before the deadline or before other light came';
  return `Light from this flash crossed the threshold ${span(crossing - flashOnWire)} after its line left the console`;
}

const afterText = (ticks: number, span: Span): string =>
  ticks < 0 ? `${span(-ticks)} before it left` : `${span(ticks)} after`;

/** Tenths are enough from 1 ms on; below it, microseconds. */
export const spanText = (ms: number): string =>
  Math.abs(ms) < 0.99995 ? `${(ms * 1000).toFixed(1)} µs` : `${ms.toFixed(1)} ms`;

/** `1 read`, `2 reads`. */
export const countText = (count: number, noun: string): string => `${count} ${noun}${count === 1 ? '' : 's'}`;
