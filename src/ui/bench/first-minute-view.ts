import { css, html, nothing } from 'lit';
import type { FirstMinuteDesk } from './first-minute-desk.ts';
import { CLOSING, FIRST_MINUTE, INTRODUCTION, seenText } from './first-minute-steps.ts';

/** For somebody who has never seen the page: three sentences, one button, three shots. */
export function firstMinuteView(desk: FirstMinuteDesk) {
  const { seen, step, isShooting } = desk;
  return html`
    <section class="minute" aria-labelledby="minute-title">
      <div class="minute-head">
        <h2 id="minute-title">The first minute</h2>
        <span class="minute-ways">
          ${seen.length === 0 || step === undefined ? nothing : quiet('Begin again', desk.beginAgain)}
          ${step === undefined ? nothing : quiet('Skip it', desk.leave)}
        </span>
      </div>
      <div class="minute-words" aria-live="polite">${words(desk)}</div>
      <button type="button" class="minute-step" id="first-minute-step" aria-disabled=${isShooting} @click=${desk.goOn}>
        ${step?.button ?? 'Close the first minute'}
      </button>
      <ol class="minute-steps" aria-label="The three shots">
        ${FIRST_MINUTE.map(
          ({ title }, i) => html`
            <li class=${i < seen.length ? 'seen' : ''} aria-current=${i === seen.length ? 'step' : nothing}>
              <span class="minute-title">${i + 1}. ${title}</span>
              <span>${i < seen.length ? verdict(seen[i]!) : comingText(i - seen.length, isShooting)}</span>
            </li>
          `,
        )}
      </ol>
    </section>
  `;
}

/** Of the step that is taken `later` steps from now. */
function comingText(later: number, isShooting: boolean): string {
  if (later > 0) return 'later';
  return isShooting ? 'being played' : 'next';
}

/** The way back to it, once it is closed. */
export const firstMinuteLink = ({ seen, step, takeUp }: FirstMinuteDesk) =>
  quiet(
    step === undefined
      ? 'The first minute, once more'
      : seen.length === 0
        ? 'The first minute: three shots that show what this is'
        : `Carry on with the first minute, shot ${seen.length + 1} of ${FIRST_MINUTE.length}`,
    takeUp,
    'first-minute-again',
  );

const quiet = (text: string, act: () => void, id?: string) =>
  html`<button type="button" class="quiet" id=${id ?? nothing} @click=${act}>${text}</button>`;

function words({ seen, step, latest, isShooting, hasFailed }: FirstMinuteDesk) {
  if (isShooting) return html`<p>The shot is being played, and where it goes wrong its cause is looked for.</p>`;
  if (hasFailed) return html`<p>This shot could not be played; why stands below. Try it again.</p>`;
  if (seen.length === 0) return INTRODUCTION.map((sentence) => html`<p>${sentence}</p>`);
  const taken = FIRST_MINUTE[seen.length - 1]!;
  return html`
    <p>
      <strong>Shot ${seen.length} of ${FIRST_MINUTE.length}: ${verdict(seen.at(-1)!)}.</strong>
      ${latest === undefined ? 'That was before this visit; go on where you left.' : seenText(taken, latest)}
    </p>
    ${step === undefined ? html`<p>${CLOSING}</p>` : nothing}
  `;
}

/** A verdict with its sign. */
const verdict = (judgement: string) =>
  judgement === 'hit'
    ? html`<span class="right">✓ ${judgement}</span>`
    : html`<span class="wrong">✕ ${judgement}</span>`;

export const FIRST_MINUTE_STYLES = css`
  .minute {
    background: var(--sheet); border: 1px solid var(--border); border-radius: 6px; padding: 1.25rem;
    margin: 0 0 1.25rem;
  }
  .minute-head { display: flex; flex-wrap: wrap; gap: 0 1.25rem; align-items: baseline; }
  .minute-head h2 { flex: 1; margin: 0; white-space: nowrap; }
  .minute-words { max-width: 58rem; min-height: 6.5rem; }
  .minute-words p { margin: 0.5rem 0; }
  .minute-ways { display: flex; gap: 1.25rem; }
  .minute-step { font-weight: 600; color: var(--sheet); background: var(--light); border-color: var(--light); }
  .minute-step[aria-disabled='true'] {
    color: var(--secondary); background: none; border-color: var(--border); cursor: default;
  }
  .minute-steps {
    list-style: none; margin: 1.25rem 0 0; padding: 0; font-size: 13px; color: var(--secondary);
    display: grid; grid-template-columns: repeat(3, 1fr); gap: 0.5rem 1rem;
  }
  .minute-steps li {
    border-top: 2px solid var(--border); padding-top: 0.4rem; display: grid; gap: 0.1rem; align-content: start;
  }
  .minute-steps .seen { border-color: var(--light); }
  .minute-steps [aria-current] { border-color: var(--ink); }
  .minute-steps [aria-current] .minute-title { color: var(--ink); }
  .minute + .answer:empty { min-height: 0; }
  .bench + h2 { margin-top: 1.5rem; }
  .quiet {
    color: var(--secondary); background: none; border: 0; border-radius: 2px; padding: 0; min-height: 28px;
    font-size: 13px; text-decoration: underline; text-underline-offset: 3px; text-align: left;
  }
  .quiet:hover { color: var(--ink); }
  @media (pointer: coarse) { .quiet { min-height: 44px; } }
  @media (max-width: 40rem) {
    .minute { padding: 0.875rem; }
    .minute-words { min-height: 0; margin-bottom: 1rem; }
    .minute-steps { grid-template-columns: 1fr; }
    .minute-steps li { grid-template-columns: 1fr max-content; }
  }
`;
