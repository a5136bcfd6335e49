import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../units/timing.ts';
import type { FlashVerdict, ShownSize, WorstFlash } from './flash-analyser.ts';
import type { LoadFound } from './flash-load.ts';
import { FAILING_CHANGES, FLASH_PROFILES, type FlashProfile } from './flash-profile.ts';
import type { SceneVerdict } from './flash-watch.ts';
import type { StripesFound } from './stripes.ts';

/** A picture 720 high, and a box that is small enough there. Our choice. */
const USUAL_SIZE: ShownSize = { scale: 3, pixelAspect: 1 };
const USUAL_BOX = 32;
const PICTURE_DOTS = PICTURE_WIDTH * PICTURE_HEIGHT;

/** Stands below every report. Own words; editions are those of the profiles. */
export const FLASH_DISCLAIMER =
  'This is an estimate against published thresholds, not a medical guarantee: some people react to less. It does not replace the analysis that a broadcaster or publisher asks for. Local rules and the advice of a physician come first.';

/** The usual caution. Own words. */
export const FLASH_CAUTION =
  'Flashing light can bring on a seizure in a small number of people, also in some who have never had one. Look at flashing pictures in a lit room, not closely, not when tired; stop, look away and get help if you feel unwell.';

export const profileOf = (id: string): FlashProfile => FLASH_PROFILES.find((profile) => profile.id === id)!;

/** One line a kind: what was worst, where and when. */
export function verdictLines(verdict: FlashVerdict): string[] {
  const profile = profileOf(verdict.profile);
  return [
    `${verdict.passes ? 'below the limits' : 'ABOVE THE LIMITS'} of ${profile.id} (${profile.title}; ${profile.source})`,
    ...tellingWorst(verdict.worst).map(worstLine),
  ];
}

/** What changed at all; dots only where they have more than their cells, for else they say the same again. */
export const tellingWorst = (worst: readonly WorstFlash[]): WorstFlash[] =>
  worst.filter(({ kind, counting, changes }) => changes > mostOf(worst, kind, counting === 'dots' ? 'place' : null));

const mostOf = (worst: readonly WorstFlash[], kind: string, counting: string | null): number =>
  worst.find((one) => one.kind === kind && one.counting === counting)?.changes ?? 0;

/** The one with the most changes; null where nothing changed. */
export const worstOf = (worst: readonly WorstFlash[]): WorstFlash | null =>
  tellingWorst(worst).reduce<WorstFlash | null>((a, b) => (a === null || b.changes > a.changes ? b : a), null);

const WAYS = { place: 'at one place', dots: 'at single dots', field: 'over the field' } as const;

/** Which rule: the kind of flash, and how it was counted. */
export const ruleText = ({ kind, counting }: WorstFlash): string => `${kind}, ${WAYS[counting]}`;

const changesText = (changes: number): string =>
  `${changes} opposing ${changes === 1 ? 'change' : 'changes'} within a second`;

export const placeText = ({ block: { x, y, width, height } }: WorstFlash, unit = 'dots'): string =>
  unit === 'dots'
    ? `dots ${x} to ${x + width - 1}, lines ${y} to ${y + height - 1}`
    : `${unit} ${x} to ${x + width - 1} across, ${y} to ${y + height - 1} down`;

/** A share in per cent, in whole ones; what there is is not told as none. */
export function percentOf(share: number): string {
  const percent = Math.min(100, Math.round(share * 100));
  return percent === 0 && share > 0 ? 'less than 1' : String(percent);
}

function worstLine(worst: WorstFlash): string {
  const { changes, frame, timeS, share } = worst;
  const sign = changes >= FAILING_CHANGES ? '✕' : ' ';
  return `${sign} ${ruleText(worst)}: ${changesText(changes)}, the limit is ${FAILING_CHANGES - 1} (frame ${frame}, ${timeS.toFixed(3)} s; ${placeText(worst)}; ${percentOf(share)} % of the block)`;
}

/** One line a scene. */
export function sceneLine({ fromS, toS, passes, worst }: SceneVerdict, number: number): string {
  const most = worstOf(worst);
  const found =
    most === null
      ? 'nothing flashes'
      : `${changesText(most.changes)} (${ruleText(most)}, at ${most.timeS.toFixed(3)} s)`;
  return `${passes ? ' ' : '✕'} scene ${number}, ${fromS.toFixed(2)} to ${toS.toFixed(2)} s: ${found}`;
}

/** What calls for care though it is no limit of a success criterion. */
export function careLines(load: readonly LoadFound[], stripes: StripesFound | null): string[] {
  const lines = load.map(loadLine);
  if (stripes !== null) lines.push(stripesLine(stripes));
  return lines;
}

function loadLine({ kind, isAbove, fromS, toS }: LoadFound): string {
  if (kind === 'long')
    return `Flashes go on for ${(toS - fromS).toFixed(1)} s (from ${fromS.toFixed(1)} s): a sequence longer than 5 s may be a risk even where it complies (ITU-R BT.1702-3, second hand).`;
  const found = `Between ${fromS.toFixed(1)} and ${toS.toFixed(1)} s there are 4 changes a second or more, for 4 s of any 5`;
  return isAbove ? `${found}, and above the limits among them.` : `${found}: allowed there, but much.`;
}

/** What a game was made to do while it was watched. */
interface Played {
  readonly madeMs: readonly number[];
  readonly notWatchedMs: readonly number[];
  readonly heldMs: readonly number[];
  readonly alternatives: number;
}

/** A game is judged by no more than what its scenario plays. */
export function playedLine({ madeMs, alternatives }: Played): string {
  const left = alternatives === 0 ? '' : `; ${alternatives} more at the same times are alternatives, left out`;
  const made = madeMs.length === 0 ? 'no shot' : `${shotsText(madeMs.length)} (${timesText(madeMs)}${left})`;
  return `Judged is only what this scenario plays: its pads and ${made}. Other levels, menus, shots and faster fire are NOT judged.`;
}

/** Shots and pulls of which nothing is said; none where everything was judged. */
export const notJudgedLines = ({ notWatchedMs, heldMs }: Played): string[] => [
  ...(notWatchedMs.length === 0
    ? []
    : [
        `Not judged: ${shotsText(notWatchedMs.length)} (${timesText(notWatchedMs)}): the time that was watched ends less than a second after. Watch longer.`,
      ]),
  ...(heldMs.length === 0
    ? []
    : [
        `Not judged: ${shotsText(heldMs.length)} (${timesText(heldMs)}): the trigger was still held from the one before. Give that one a shorter squeezeMs, or this one a later atMs.`,
      ]),
];

const shotsText = (count: number): string => `${count} ${count === 1 ? 'shot or pull' : 'shots and pulls'}`;

const MOST_TIMES = 6;

function timesText(timesMs: readonly number[]): string {
  const told = timesMs.slice(0, MOST_TIMES).map((ms) => `${(ms / 1000).toFixed(2)}`);
  return `at ${told.join(', ')} s${timesMs.length > MOST_TIMES ? ` and ${timesMs.length - MOST_TIMES} more` : ''}`;
}

const stripesLine = ({ run, pairs, share, isMoving, fromS, toS }: StripesFound): string =>
  `${run === 'upright' ? 'Upright' : 'Level'} stripes, ${pairs} pairs of light and dark over ${percentOf(share)} % of the block, ${isMoving ? 'changing' : 'standing'}, from ${fromS.toFixed(1)} to ${toS.toFixed(1)} s: advice is at most ${isMoving ? 5 : 8} pairs (Epilepsia 46(9):1423, 2005, and game accessibility guidelines).`;

/** What to change, most useful first; empty when nothing fails. `size`: how large the pictures are seen. */
export function flashAdvice(verdicts: readonly FlashVerdict[], size: ShownSize = USUAL_SIZE): string[] {
  const isFailing = ({ changes }: WorstFlash): boolean => changes >= FAILING_CHANGES;
  const failing = verdicts.flatMap(({ worst }) => worst.filter(isFailing));
  if (failing.length === 0) return [];
  const profiles = verdicts.filter(({ worst }) => worst.some(isFailing)).map(({ profile }) => profileOf(profile));
  const least = `${Math.round(100 * Math.min(...profiles.map(({ leastChange }) => leastChange)))} % of white`;
  const bySize = profiles.filter(({ leastShare }) => leastShare > 0);
  const isAnySizeCounted = bySize.length < profiles.length;
  const advice = [
    'Leave more time between shots: a black picture and a full flash over a scene of middling brightness need 30 frames at 60 Hz and 25 at 50 Hz, a black picture alone 21 and 17.',
    `Darken the scene for a while before the first shot, or keep it dark: over a scene below ${least} the black picture makes no change.`,
    `Keep a calibration flash out of any second with shots; less than ${least} from the scene’s own luminance it does not count at all.`,
    `A code that flashes over the whole picture is at most 7 bits long and comes once a second; longer ones belong ${isAnySizeCounted ? '' : 'into the box alone, or '}on two greys less than ${least} apart.`,
  ];
  const box = boxDots(bySize, size);
  if (bySize.length > 0 && box >= CELL)
    advice.push(
      `Flash a box of at most ${box} dots in place of the whole picture: at this size it fills less than a quarter of what ${idsOf(bySize)} ${bySize.length === 1 ? 'looks' : 'look'} at.`,
    );
  if (isAnySizeCounted)
    advice.push(
      `${idsOf(profiles.filter(({ leastShare }) => leastShare === 0))} counts flashes of any size: no smaller box helps there, only fewer or fainter flashes.`,
    );
  if (bySize.length > 0 && failing.some(({ counting }) => counting === 'dots'))
    advice.unshift('Let no fine pattern swap its light and dark dots: means hide it, eyes at a large screen do not.');
  if (failing.some(({ kind }) => kind !== 'general')) advice.unshift('Use no saturated red in what flashes.');
  return advice;
}

const idsOf = (profiles: readonly FlashProfile[]): string => profiles.map(({ id }) => id).join(', ');

const CELL = 8;

/** Dots of the cells that a box reaches into at worst, along one axis. */
const reachOf = (edge: number): number => CELL * (Math.ceil((edge - 1) / CELL) + 1);

/**
 * Edge of the largest square that fills less than the share of all of these wherever it stands, dots; no more than is usual,
 * 0 where none does. A box in which no whole cell has room counts with all the cells that it reaches into.
 */
function boxDots(profiles: readonly FlashProfile[], { scale, pixelAspect }: ShownSize): number {
  const edges = profiles.map(({ block, leastShare }) => {
    const dots = block === null ? PICTURE_DOTS : (block.width * block.height) / (scale * scale * pixelAspect);
    const allowed = leastShare * dots;
    // In a box of so many dots a whole cell has room wherever it stands.
    const isCertain = (edge: number): boolean => edge >= 2 * CELL - 1 || reachOf(edge) * reachOf(edge) < allowed;
    let edge = Math.ceil(Math.sqrt(allowed)) - 1;
    while (edge > 0 && !isCertain(edge)) edge--;
    return edge;
  });
  return Math.min(USUAL_BOX, ...edges);
}
