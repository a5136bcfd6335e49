import { html, nothing } from 'lit';
import type { Change, WhyWrong } from '../../workers/play.api.ts';
import { benchChanges } from './light-edits.ts';
import type { LoggedShot } from './shot-log.ts';

/** Why a shot was wrong, with its cure: a button where the bench can make the change, words where the program must. */
export function whyText(
  why: WhyWrong | undefined,
  { isLive }: Pick<LoggedShot, 'isLive'>,
  apply: (changes: readonly Change[]) => void,
) {
  if (why === undefined || why.kind === 'right') return nothing;
  if (why.kind === 'not explained') return html`<p class="secondary">${why.text}</p>`;
  if (why.kind === 'not proved')
    return html`<p class="secondary">No cause was proved: none of what was put right, alone or in pairs, makes this shot right${why.tried.length === 0 ? '' : ` (${why.tried.join(', ')})`}.</p>`;
  const [first, ...others] = why.causes;
  const changes = benchChanges(first!.changes);
  return html`
    <p class="cause">${first!.sentence}</p>
    <p class="cure">${first!.cure}</p>
    ${changes.length === 0 ? nothing : html`<p><button class="primary" @click=${() => apply(changes)}>${changeText(changes.length < first!.changes.length, isLive)}</button></p>`}
    <p class="secondary">${why.isPair ? 'Proved: with both changed the same shot is right, with one of them it is not.' : 'Proved: with this alone changed the same shot is right.'}</p>
    ${others.map(({ sentence, cure }) => html`<p class="secondary">${why.isPair ? 'And:' : 'Or:'} ${sentence} ${cure}</p>`)}
  `;
}

/** Of two ways the bench can go one: what the program does is somebody else's to change. */
const changeText = (isOneOfTwo: boolean, isLive: boolean): string =>
  `${isOneOfTwo ? 'Change the light here' : 'Change it here'}${isLive ? '' : ' and shoot again'}`;
