import { LatelightError } from '../errors/latelight-error.ts';
import { FLASH_PROFILES, type FlashProfile } from '../safety/flash-profile.ts';
import { FLASH_DISCLAIMER, flashAdvice, verdictLines } from '../safety/flash-text.ts';
import { checkFlashes } from '../shot/flash-check.ts';
import { openScenario } from './files.ts';

export interface FlashCheckArguments {
  readonly seconds?: string | undefined;
  readonly scale?: string | undefined;
  readonly profile?: string | undefined;
  readonly json?: boolean | undefined;
}

/** CSS pixels from line to line when nothing else is asked for: a picture 720 high. Our choice. */
export const USUAL_SCALE = 3;
export const LONGEST_S = 600;
/** Profiles when none is asked for. Our choice: the ones that the web and television are held to. */
export const USUAL_PROFILES: readonly string[] = ['wcag-a', 'tv-1702'];

/**
 * `latelight flash-check SCENARIO... [--seconds N] [--scale N] [--profile ID]`
 *
 * Answers whether everything stays below the limits. Errors: USAGE and those of reading and running a scenario.
 */
export function flashCheck(paths: readonly string[], options: FlashCheckArguments): boolean {
  if (paths.length === 0)
    throw new LatelightError('USAGE', { found: 'no scenario was given', expected: 'at least one file' });
  const seconds = numberOf('--seconds', options.seconds, 0.1, LONGEST_S);
  const scale = numberOf('--scale', options.scale, 0.1, 20) ?? USUAL_SCALE;
  const profiles = profilesOf(options.profile);
  const documents = paths.map((path) => {
    const prepared = openScenario(path);
    const { scenario } = prepared;
    const lastMs = Math.max(...scenario.shots.map(({ atMs }) => atMs));
    const watched = seconds ?? Math.min(LONGEST_S, lastMs / 1000 + 2);
    const verdicts = checkFlashes(prepared, { profiles, size: { scale, pixelAspect: 1 }, seconds: watched });
    return { path, title: scenario.title, seconds: watched, scale, verdicts };
  });
  if (options.json === true) console.log(JSON.stringify({ latelight: 1, flashChecks: documents }, null, 2));
  else for (const document of documents) console.log(textOf(document));
  return documents.every(({ verdicts }) => verdicts.every(({ passes }) => passes));
}

function textOf({ title, seconds, scale, verdicts }: Document): string {
  const lines = [
    `${title}: what the game shows, ${seconds.toFixed(1)} s from power-on, shown at ${scale} CSS pixels a line`,
  ];
  for (const verdict of verdicts)
    lines.push(...verdictLines(verdict).map((line, i) => `${i === 0 ? '  ' : '    '}${line}`));
  for (const advice of flashAdvice(verdicts)) lines.push(`  ${advice}`);
  lines.push('', FLASH_DISCLAIMER, '');
  return lines.join('\n');
}

interface Document {
  readonly title: string;
  readonly seconds: number;
  readonly scale: number;
  readonly verdicts: ReturnType<typeof checkFlashes>;
}

function numberOf(option: string, text: string | undefined, least: number, most: number): number | undefined {
  if (text === undefined) return undefined;
  const value = Number(text);
  if (text.trim() !== '' && value >= least && value <= most) return value;
  throw new LatelightError('USAGE', { found: `${option} ${text}`, expected: `a number from ${least} to ${most}` });
}

/** Error: USAGE. */
function profilesOf(asked: string | undefined): readonly FlashProfile[] {
  if (asked === undefined) return FLASH_PROFILES.filter(({ id }) => USUAL_PROFILES.includes(id));
  const found = FLASH_PROFILES.filter(({ id }) => id === asked || asked === 'all');
  if (found.length > 0) return found;
  const expected = `${FLASH_PROFILES.map(({ id }) => id).join(', ')} or all`;
  throw new LatelightError('USAGE', { found: `--profile ${asked}`, expected });
}
