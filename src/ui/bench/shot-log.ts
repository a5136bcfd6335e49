import { html, nothing } from 'lit';
import type { LightPathSettings, PlayOutcome, WhyWrong } from '../../workers/play.api.ts';
import { specOf } from './light-edits.ts';

const LISTED_SHOTS = 12;

/** What a shot was made with. */
export interface SetUp {
  readonly strategy: string;
  readonly lightPath: LightPathSettings;
}

/** A shot as the page lists it. */
export interface LoggedShot extends PlayOutcome {
  readonly number: number;
  readonly setUp: SetUp;
  /** Somebody pulled while the game was running; else it was shot once, from power-on. */
  readonly isLive: boolean;
}

/** The same strategy and the same values; not the very same object, for one comes back by undo or from a link. */
export const isSameSetUp = (a: SetUp, b: SetUp): boolean =>
  a.strategy === b.strategy && JSON.stringify(a.lightPath) === JSON.stringify(b.lightPath);

/** What was shot, and through what, in words; every number of it stands at its station. */
export function setUpText({ strategy, lightPath: { stages, panel, sensor } }: SetUp): string {
  const late = stages.flatMap((stage) => {
    const { delayMs, frames } = stage;
    if (delayMs === 0) return [];
    if (delayMs !== undefined) return `${Number(Number(delayMs).toFixed(3))} ms late`;
    return frames === undefined ? specOf('stages', stage).title : `${frames} frame${frames === 1 ? '' : 's'} late`;
  });
  return [strategy, specOf('panel', panel).title, ...late, specOf('sensor', sensor).title].join(', ');
}

/** An edge is neither right nor wrong. */
export const signOf = ({ isRight, judgement }: PlayOutcome): string =>
  isRight ? '✓' : judgement === 'edge' ? '○' : '✕';

export const toneOf = ({ isRight, judgement }: PlayOutcome): 'right' | 'edge' | 'wrong' =>
  isRight ? 'right' : judgement === 'edge' ? 'edge' : 'wrong';

/** Whether a proved cause begins with what the verdict says of the light, and goes on from there. */
function isToldByCause({ account }: LoggedShot, why: WhyWrong | undefined): boolean {
  if (why?.kind !== 'proved' || account === null) return false;
  const [beginning = account] = account.split(/[;,] /);
  return why.causes[0]!.sentence.startsWith(beginning);
}

/** The shot that was made last. What its proved cause tells more fully is left to that. */
export const verdictView = (shot: LoggedShot, why: WhyWrong | undefined) => html`
  <p class="verdict ${toneOf(shot)}">${signOf(shot)} ${shot.judgement}</p>
  <p class="secondary">${setUpText(shot.setUp)}</p>
  <p>${isToldByCause(shot, why) ? shot.text.replace(` ${shot.account}`, '') : shot.text}</p>
`;

/** The same in a few words, for narrow windows, where the verdict lies below the pictures. Always of one height. */
export const toldText = (shot: LoggedShot | undefined) =>
  shot === undefined
    ? 'no shot yet'
    : html`<span class=${toneOf(shot)}>${signOf(shot)} ${shot.judgement}</span>, ${shot.lanes === null ? 'pull' : 'shot'} ${shot.number}`;

export interface EarlierShots {
  readonly shots: readonly LoggedShot[];
  /** The one that is kept for comparison. */
  readonly kept: LoggedShot | undefined;
  readonly keep: (shot: LoggedShot) => void;
}

/** Those before it. */
export function earlierShots({ shots, kept, keep }: EarlierShots) {
  if (shots.length === 0) return nothing;
  return html`
    <h2>Earlier shots</h2>
    <ol reversed class="shots">
      ${shots.slice(0, LISTED_SHOTS).map(
        (shot) => html`
          <li value=${shot.number}>
            ${shotLine(shot)}
            ${shot === kept ? html`<span class="secondary">kept for comparison</span>` : keepButton(shot, keep)}
          </li>
        `,
      )}
    </ol>
  `;
}

/** Nothing was judged, nothing is compared. */
function keepButton(shot: LoggedShot, keep: (shot: LoggedShot) => void) {
  if (shot.lanes === null) return nothing;
  const label = `Keep for comparison: shot ${shot.number}`;
  return html`<button type="button" class="quiet" aria-label=${label} @click=${() => keep(shot)}>Keep for comparison</button>`;
}

const shotLine = (shot: LoggedShot) => html`
  <span class=${toneOf(shot)}>${signOf(shot)} ${shot.judgement}</span>
  <span class="secondary">${setUpText(shot.setUp)}</span> ${shot.text}
`;
