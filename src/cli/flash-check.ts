import { LatelightError } from '../errors/latelight-error.ts';
import type { ShownSize } from '../safety/flash-analyser.ts';
import { FLASH_PROFILES, type FlashProfile } from '../safety/flash-profile.ts';
import {
  careLines,
  FLASH_CAUTION,
  FLASH_DISCLAIMER,
  flashAdvice,
  notJudgedLines,
  playedLine,
  sceneLine,
  verdictLines,
} from '../safety/flash-text.ts';
import { checkFlashes, type GameFlashes } from '../shot/flash-check.ts';
import { contactSheet } from './contact-sheet.ts';
import { openScenario, writeFile } from './files.ts';

export interface FlashCheckArguments {
  readonly seconds?: string | undefined;
  readonly scale?: string | undefined;
  readonly 'pixel-aspect'?: string | undefined;
  readonly profile?: string | undefined;
  readonly json?: boolean | undefined;
  /** A PNG file for the pictures of the worst second. */
  readonly pictures?: string | undefined;
}

/** CSS pixels from line to line when nothing else is asked for: a picture 720 high. Our choice. */
export const USUAL_SCALE = 3;
export const LONGEST_S = 600;
/** Profiles when none is asked for. Our choice: the ones that the web and television are held to. */
export const USUAL_PROFILES: readonly string[] = ['wcag-a', 'tv-1702'];

/**
 * `latelight flash-check SCENARIO... [--seconds N] [--scale N] [--profile ID] [--pictures FILE]`
 *
 * Answers whether everything that the scenarios play was watched and stays below the limits. Errors: USAGE and those of reading and running a scenario.
 */
export function flashCheck(paths: readonly string[], options: FlashCheckArguments): boolean {
  if (paths.length === 0)
    throw new LatelightError('USAGE', { found: 'no scenario was given', expected: 'at least one file' });
  const seconds = numberOf('--seconds', options.seconds, 0.1, LONGEST_S);
  const scale = numberOf('--scale', options.scale, 0.1, 20) ?? USUAL_SCALE;
  const pixelAspect = numberOf('--pixel-aspect', options['pixel-aspect'], 0.5, 2) ?? 1;
  const profiles = profilesOf(options.profile);
  const checks = paths.map((path) => checkOf(path, profiles, { scale, pixelAspect }, seconds));
  if (options.json === true)
    console.log(JSON.stringify({ latelight: 1, flashChecks: checks.map(documentOf) }, null, 2));
  else for (const check of checks) console.log(textOf(check));
  if (options.pictures !== undefined) savePictures(options.pictures, checks);
  return checks.every(
    ({ verdicts, played }) => notJudgedLines(played).length === 0 && verdicts.every(({ passes }) => passes),
  );
}

interface Check extends GameFlashes {
  readonly path: string;
  readonly title: string;
  readonly seconds: number;
  readonly size: ShownSize;
  readonly swapsRedGreenEmphasis: boolean;
}

function checkOf(path: string, profiles: readonly FlashProfile[], size: ShownSize, asked: number | undefined): Check {
  const prepared = openScenario(path);
  const { scenario, timing } = prepared;
  const lastMs = Math.max(...scenario.shots.map(({ atMs }) => atMs));
  const seconds = asked ?? Math.min(LONGEST_S, lastMs / 1000 + 2);
  const found = checkFlashes(prepared, { profiles, size, seconds });
  const { swapsRedGreenEmphasis } = timing;
  return { path, title: scenario.title, seconds, size, swapsRedGreenEmphasis, ...found };
}

/** What a program reads: pictures are left out but for their times. */
function documentOf({ swapsRedGreenEmphasis: _, size, verdicts, ...rest }: Check) {
  return {
    ...rest,
    ...size,
    stream: 'the game',
    verdicts: verdicts.map(({ worstSecond, ...verdict }) => ({
      ...verdict,
      worstSecond: worstSecond && {
        fromS: worstSecond.fromS,
        toS: worstSecond.toS,
        beforeS: worstSecond.before?.timeS ?? null,
        picturesS: worstSecond.pictures.map(({ timeS }) => timeS),
        left: worstSecond.left,
      },
    })),
  };
}

/** The worst second, and the picture before it, of the first check that fails, or of the first there is. Errors: as `writeFile`. */
function savePictures(path: string, checks: readonly Check[]): void {
  const check = checks.find(({ verdicts }) => verdicts.some(({ passes }) => !passes)) ?? checks[0]!;
  const verdict = check.verdicts.find(({ passes }) => !passes) ?? check.verdicts[0]!;
  const { before = null, pictures: changing = [] } = verdict.worstSecond ?? {};
  const pictures = [...(before === null ? [] : [before]), ...changing].map(({ picture }) => picture);
  if (pictures.length === 0) {
    console.error('Nothing flashes, so there is no picture to save.');
    return;
  }
  writeFile(path, contactSheet(pictures, check.swapsRedGreenEmphasis));
}

function textOf({ title, seconds, size, verdicts, stripes, played }: Check): string {
  const lines = [
    `${title}: what the game shows, ${seconds.toFixed(1)} s from power-on, shown at ${size.scale} CSS pixels a line, dots ${shapeOf(size)}`,
  ];
  lines.push(`  ! ${playedLine(played)}`);
  lines.push(...notJudgedLines(played).map((line) => `  ✕ ${line}`));
  for (const verdict of verdicts) {
    lines.push(...verdictLines(verdict).map((line, i) => `${i === 0 ? '  ' : '    '}${line}`));
    lines.push(...verdict.scenes.map((scene, i) => `    ${sceneLine(scene, i + 1)}`));
  }
  // Every profile counts how long flashes go on; the first is the one that the page is held to.
  for (const care of careLines(verdicts[0]?.load ?? [], stripes)) lines.push(`  ${care}`);
  for (const advice of flashAdvice(verdicts, size)) lines.push(`  ${advice}`);
  lines.push('', FLASH_DISCLAIMER, FLASH_CAUTION, '');
  return lines.join('\n');
}

const shapeOf = ({ pixelAspect }: ShownSize): string =>
  pixelAspect === 1 ? 'square' : `${Number(pixelAspect.toFixed(3))} times as wide as high`;

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
