import { html, LitElement, nothing, type TemplateResult } from 'lit';
import { FLASH_CAUTION, FLASH_DISCLAIMER } from '../safety/flash-text.ts';
import type { FlashCount, FlashFinding, FlashPicture, FlashScene, FlashStream } from '../workers/flash-check.api.ts';
import { FLASH_REPORT_STYLES } from './flash-report.styles.ts';
import { OPENING_STYLES } from './opening.styles.ts';
import { SIDEWAYS_STYLES } from './sideways.styles.ts';

/**
 * What the flash check found: for each stream of pictures the verdict, the scenes, the worst second with its pictures, and
 * what to change. Pictures stand still, one beside another.
 *
 * Properties: `streams`, as a worker and a recorder give them; `busy`, words for what is being watched.
 */
export class FlashReport extends LitElement {
  static override properties = {
    streams: { attribute: false },
    busy: {},
  };

  static override styles = [SIDEWAYS_STYLES, OPENING_STYLES, FLASH_REPORT_STYLES];

  declare streams: readonly FlashStream[];
  declare busy: string;

  constructor() {
    super();
    this.streams = [];
    this.busy = '';
  }

  override render() {
    return html`
      <div role="status">${this.busy === '' ? nothing : html`<p>${this.busy}</p>`}</div>
      ${this.streams.length === 0 && this.busy === '' ? html`<p class="secondary">Nothing has been watched yet.</p>` : nothing}
      ${this.streams.map(streamView)}
      ${this.streams.length === 0 ? nothing : footView(this.streams)}
    `;
  }

  override updated(): void {
    const canvases = this.renderRoot.querySelectorAll('canvas');
    const pictures = this.streams.flatMap(({ findings }) => findings.flatMap((finding) => finding.pictures));
    for (const [i, canvas] of canvases.entries()) paint(canvas, pictures[i]!);
  }
}

function streamView({ stream, watched, findings, care, advice }: FlashStream): TemplateResult {
  const passes = findings.every((finding) => finding.passes);
  return html`<section aria-label=${stream}>
    <h3>${stream}</h3>
    <p class="secondary">${watched}</p>
    ${
      findings.length === 0
        ? html`<p>No picture has been shown yet.</p>`
        : html`<p class="verdict ${passes ? 'right' : 'wrong'}">${verdictText(passes)}</p>`
    }
    ${care.map((line) => html`<p>! ${line}</p>`)}
    ${
      advice.length === 0
        ? nothing
        : html`<h4>What to change</h4><ul class="advice">${advice.map((line) => html`<li>${line}</li>`)}</ul>`
    }
    ${findings.map((finding) => findingView(finding, stream))}
  </section>`;
}

const verdictText = (passes: boolean): string =>
  passes ? '✓ Below the published limits' : '✕ Above a published limit';

function findingView(finding: FlashFinding, stream: string): TemplateResult {
  const { profile, title, passes, counts, scenes, pictures, left } = finding;
  const name = `${stream}, ${profile}`;
  return html`<div class="finding">
    <h4><span class=${passes ? 'right' : 'wrong'}>${passes ? '✓ below' : '✕ above'}</span> ${profile}: ${title}</h4>
    ${counts.length === 0 ? html`<p>Nothing flashes.</p>` : html`${worstView(counts)}${countsView(counts, name)}`}
    ${scenesView(scenes, name)}
    ${pictures.length === 0 ? nothing : stillsView(pictures, left)}
  </div>`;
}

function worstView(counts: readonly FlashCount[]): TemplateResult {
  const worst = counts.reduce((a, b) => (b.changes > a.changes ? b : a));
  return html`<p>
    Worst second, up to ${seconds(worst.timeS)}: ${worst.changes} opposing ${worst.changes === 1 ? 'change' : 'changes'}, the limit is ${worst.limit}.
    Rule: ${worst.rule}. Where: ${worst.where}. Area: ${worst.areaPercent} % of the block.
  </p>`;
}

const COUNT_HEADS = ['', 'rule', 'changes in a second', 'limit', 'at', 'where', 'area of the block'];

const countsView = (counts: readonly FlashCount[], name: string): TemplateResult => html`<details>
  <summary>Every rule</summary>
  ${tableView(`${name}: rules`, COUNT_HEADS, counts.map(countCells))}
</details>`;

const countCells = ({ rule, changes, limit, isAbove, timeS, where, areaPercent }: FlashCount): readonly string[] => [
  isAbove ? '✕ above' : '✓ below',
  rule,
  `${changes}`,
  `${limit}`,
  seconds(timeS),
  where,
  `${areaPercent} %`,
];

const SCENE_HEADS = ['scene', '', 'most changes in a second', 'rule', 'at', 'area of the block'];

const scenesView = (scenes: readonly FlashScene[], name: string): TemplateResult =>
  tableView(
    `${name}: scenes`,
    SCENE_HEADS,
    scenes.map(({ fromS, toS, passes, worst }, i) => [
      `${i + 1}: ${fromS.toFixed(3)} to ${seconds(toS)}`,
      passes ? '✓ below' : '✕ above',
      `${worst?.changes ?? 0}`,
      worst?.rule ?? 'nothing flashes',
      worst === null ? '' : seconds(worst.timeS),
      worst === null ? '' : `${worst.areaPercent} %`,
    ]),
  );

/** A table that scrolls by itself where it is too wide. */
const tableView = (
  caption: string,
  heads: readonly string[],
  rows: readonly (readonly string[])[],
): TemplateResult => html`
  <div class="table" tabindex="0" role="group" aria-label=${caption}>
    <table>
      <caption>${caption}</caption>
      <thead><tr>${heads.map((head) => (head === '' ? html`<th scope="col">verdict</th>` : html`<th scope="col">${head}</th>`))}</tr></thead>
      <tbody>${rows.map((row) => html`<tr>${row.map(cellView)}</tr>`)}</tbody>
    </table>
  </div>
`;

const cellView = (text: string): TemplateResult =>
  html`<td class="${/^[\d.]/.test(text) && !text.includes(':') ? 'number' : text.startsWith('✕') ? 'wrong' : text.startsWith('✓') ? 'right' : ''}">${text}</td>`;

const stillsView = (pictures: readonly FlashPicture[], left: number): TemplateResult => html`<details>
  <summary>Pictures of the worst second: ${pictures.length}, still${left === 0 ? '' : html`; ${left} more are left out`}</summary>
  <ol class="stills">
    ${pictures.map(
      (picture) => html`<li><figure>
        <canvas width=${picture.width} height=${picture.height} role="img" aria-label=${altText(picture)}></canvas>
        <figcaption>${seconds(picture.timeS)}</figcaption>
      </figure></li>`,
    )}
  </ol>
</details>`;

/** What a picture is like, for who does not see it. */
function altText({ timeS, rgba }: FlashPicture): string {
  let sum = 0;
  for (let at = 0; at < rgba.length; at += 4) sum += (rgba[at]! + rgba[at + 1]! + rgba[at + 2]!) / 3;
  return `Picture at ${seconds(timeS)}, mean level ${Math.round((400 * sum) / rgba.length / 255)} % of white`;
}

const seconds = (s: number): string => `${s.toFixed(3)} s`;

function footView(streams: readonly FlashStream[]): TemplateResult {
  const limits = editions(streams);
  return html`<div class="foot">
    <p>${FLASH_DISCLAIMER}</p>
    <p>${FLASH_CAUTION}</p>
    ${limits.length === 0 ? nothing : html`<p>Limits: ${limits.join('; ')}.</p>`}
  </div>`;
}

const editions = (streams: readonly FlashStream[]): string[] => [
  ...new Set(streams.flatMap(({ findings }) => findings.map(({ profile, source }) => `${profile}: ${source}`))),
];

function paint(canvas: HTMLCanvasElement, { width, height, rgba }: FlashPicture): void {
  canvas.getContext('2d')?.putImageData(new ImageData(rgba, width, height), 0, 0);
}

customElements.define('flash-report', FlashReport);

declare global {
  interface HTMLElementTagNameMap {
    'flash-report': FlashReport;
  }
}
