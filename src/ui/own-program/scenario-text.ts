import tube from '../../../homebrew-demo/lamplighter/tube.json?raw';
import { objectOf } from './file-kinds.ts';

/** A shot whose instant is found when it is wanted; in the middle of the picture until then. */
const AIM = { x: 128, y: 120 } as const;
const EARLIEST_MS = 1000;
/** After a pull the trigger is let go and the wand turned, in this time at most. */
const PULL_MS = 12_000;

/** A scenario to begin with, for files of these names: Lamplighter's without what is of Lamplighter alone. */
export function scenarioTemplate(image: string, labels: string): string {
  const { timing: _, pads: __, shots: ___, ...others } = objectOf(tube);
  const title = image.replace(/\.\w+$/, '');
  return `${JSON.stringify({ ...others, title, image, labels }, null, 2)}\n`;
}

/** A scenario that can be run. */
export interface CompleteScenario {
  readonly text: string;
  /** False: it had no shots, and has got one whose instant means nothing. */
  readonly hasShots: boolean;
}

/** The scenario with a shot, if it has none; anything else that is missing is told by whoever checks it. */
export function completeScenario(text: string): CompleteScenario {
  const document = objectOf(text);
  const { shots, pulls } = document;
  const isWithout = shots === undefined || (Array.isArray(shots) && shots.length === 0);
  if (Object.keys(document).length === 0 || !isWithout) return { text, hasShots: true };
  return { text: JSON.stringify({ ...document, shots: [{ aim: AIM, atMs: afterPulls(pulls) }] }), hasShots: false };
}

function afterPulls(pulls: unknown): number {
  const last: unknown = Array.isArray(pulls) ? pulls.at(-1)?.atMs : undefined;
  return typeof last === 'number' ? last + PULL_MS : EARLIEST_MS;
}

/** The scenario with its shot at this instant. */
export function withInstant(text: string, atMs: number): string {
  return JSON.stringify({ ...objectOf(text), shots: [{ aim: AIM, atMs }] });
}

/** Names of the files that a scenario says, without their folders. */
export function namedFiles(text: string): { readonly image: string; readonly labels: string } {
  const { image, labels } = objectOf(text);
  return { image: baseName(image), labels: baseName(labels) };
}

const baseName = (path: unknown): string => (typeof path === 'string' ? path.replace(/^.*[/\\]/, '') : '');
