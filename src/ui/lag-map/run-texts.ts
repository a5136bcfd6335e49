import { html, nothing } from 'lit';
import type { Sweep } from '../../sweep/plan.ts';
import { grouped } from '../../units/grouped.ts';
import { durationText } from './estimate.ts';
import type { MapRun } from './map-run.ts';

/** How much there is to run. `costMs`: what is still to be run takes one worker so long on the machine of the costs. */
export function sizeText(sweep: Sweep, run: MapRun, costMs: number) {
  const { cellCount, entries, document } = sweep;
  const missing = run.missing(sweep).length;
  const cells = cellCount / entries.aim.length;
  const aims = entries.aim.length;
  const inPlan = aims === 1 ? '' : ` With ${aims} aims each they are ${counted(cellCount, 'cell')} of the plan:`;
  const known = (cellCount - missing) * document.n;
  return html`<p class="size">
    ${counted(cells, 'cell')} on the map (${counted(cells / entries.delayMs.length, 'row')}, ${counted(entries.delayMs.length, 'delay')})${inPlan === '' ? ',' : `.${inPlan}`}
    ${counted(cellCount * document.n, 'shot')}${known === 0 ? '' : html`, ${grouped(known)} of them known`}.
    <span class="secondary">${run.state === 'running' ? '' : missing === 0 ? 'Everything is known.' : guessText(run, missing, costMs)}</span>
  </p>`;
}

function guessText({ speed, jobs }: MapRun, missing: number, costMs: number): string {
  const ms = (costMs * (speed ?? 1)) / Math.max(1, Math.min(jobs, missing));
  const source = speed === undefined ? 'reckoned from another machine' : 'at the speed of the last run';
  return `About ${durationText(ms)} with ${counted(jobs, 'worker')}, ${source}.`;
}

const counted = (count: number, one: string): string => `${grouped(count)} ${one}${count === 1 ? '' : 's'}`;

/** How the run stands. `next`: the plan that would be run now. */
export function stateText(run: MapRun, next: Sweep | undefined) {
  const { progress } = run;
  const far =
    progress === undefined
      ? ''
      : `${grouped(progress.cells)} of ${counted(progress.ofCells, 'cell')} of the plan, ${grouped(progress.shots)} of ${counted(progress.ofShots, 'shot')}`;
  switch (run.state) {
    case 'empty':
      return html`<div class="state"><p class="secondary">Nothing is known yet. Hatched cells fill as they are run.</p></div>`;
    case 'running':
      return html`<div class="state">
        <p><strong>Running.</strong> <span class="secondary">${far}${progress?.leftMs === undefined ? '' : `, about ${durationText(progress.leftMs)} left`}</span></p>
        <progress aria-label="shots done" max=${progress?.ofShots ?? 1} .value=${progress?.shots ?? 0}></progress>
      </div>`;
    case 'cancelled':
      return html`<div class="state" role="status">
        <p><strong>Cancelled.</strong> <span class="secondary">${far} are known and kept.</span></p>${changedText(run, next)}
      </div>`;
    case 'kept':
      return html`<div class="state" role="status">
        <p><strong>From before.</strong> <span class="secondary">${far} were known when the page was closed.</span></p>${changedText(run, next)}
      </div>`;
    case 'failed':
      return html`<div class="state" role="status">
        <p class="wrong"><strong>✕ The run has stopped.</strong></p>
        <p>${run.problem?.refused}.</p>
        <p class="secondary">${run.problem?.hint}</p>
        <p class="secondary">${far} are known and kept.</p>${changedText(run, next)}
      </div>`;
    case 'finished':
      return html`<div class="state" role="status">
        <p><strong class="right">✓ Finished.</strong> <span class="secondary">${far}. Rates of right shots with 95 % intervals (Wilson).</span></p>${changedText(run, next)}
      </div>`;
  }
}

const changedText = (run: MapRun, next: Sweep | undefined) =>
  next === undefined || run.isOf(next) || run.results.size === 0
    ? nothing
    : html`<p class="secondary">The plan has changed since: this is the map of the one that was run. Running it starts a new map.</p>`;
