import { css, html } from 'lit';
import figures from '../../../homebrew-demo/lamplighter/strategies/figures.json';
import { grouped } from '../../units/grouped.ts';
import { TIMINGS, ticksPerFrame, ticksToMs } from '../../units/timing.ts';
import { PROGRAMS } from '../programs.ts';
import { msText } from '../ruler/ruler-view.ts';

/** One strategy's measured figures; `test/demo/strategy-figures.ts` says what each of them is. */
type Figures = (typeof figures)[number];

/** What no measurement says. */
interface Words {
  /** When it looks for the light of a box. */
  readonly looks: (figures: Figures) => string;
  readonly asks: string;
  readonly fails: string;
}

const FRAME_MS = ticksToMs(TIMINGS['60hz'], ticksPerFrame(TIMINGS['60hz']));

const WORDS: Readonly<Record<string, Words>> = {
  'same-frame-untested': {
    looks: () => 'while the box is sent',
    asks: 'nothing',
    fails: 'on later screens; a bright sky that is a little late is taken for a hit',
  },
  'same-frame-tested': {
    looks: () => 'while the box is sent, if it was dark before',
    asks: 'nothing',
    fails: 'on later screens: it misses, or names the target whose box is sent when the light comes',
  },
  'fixed-delay': {
    looks: ({ delayFrames }) =>
      `${delayFrames} pictures after the box is sent: ${msText((delayFrames ?? 0) * FRAME_MS, 1)}`,
    asks: 'a screen that is as late as the program says',
    fails: 'on any other screen; a picture more or less names the wrong target',
  },
  calibrated: {
    looks: () => 'as long after the box is sent as the screen was measured to be late',
    asks: 'one pull at a mark, once a screen',
    fails: 'where the delay changes, where light is short, with a hand that wanders during the longer shot',
  },
};

const COLUMNS = [
  'strategy',
  'looks for its light',
  'hits on an LCD',
  'one shot',
  'cycles',
  'bytes',
  'asks of the player',
  'fails',
] as const;

export interface StrategyTableParts {
  /** Id of the program on the bench. */
  readonly chosen: string;
  readonly choose: (id: string) => void;
}

/**
 * What each strategy of the demo costs, and where it fails. Roles are said once more: a narrow page lays rows out as cards,
 * by which browsers may forget them.
 */
export const strategyTable = ({ chosen, choose }: StrategyTableParts) => html`
  <details class="costs">
    <summary>What each strategy costs, and where it fails</summary>
    <table role="table">
      <thead role="rowgroup">
        <tr role="row">${COLUMNS.map((title) => html`<th role="columnheader" scope="col">${title}</th>`)}</tr>
      </thead>
      <tbody role="rowgroup">
        ${figures.map((row) => strategyRow(row, row.strategy === chosen, choose))}
      </tbody>
    </table>
    <p class="secondary">
      Measured on the 60 Hz console. Hits: all three lamps of the practice street, with a still hand. One shot: its
      pictures that are not the scene, and when the answer comes where nothing is aimed at. Cycles: of the handler with
      its sprite DMA, and of the decision. Bytes: of the strategy alone; the ring keeps where the targets stood.
    </p>
  </details>
`;

function strategyRow(row: Figures, isChosen: boolean, choose: StrategyTableParts['choose']) {
  const { looks, asks, fails } = WORDS[row.strategy]!;
  const choice = isChosen ? '● on the bench' : 'Choose it';
  const { title } = PROGRAMS.find(({ id }) => id === row.strategy)!;
  const cells = [looks(row), hitsText(row), shotLines(row), cycleLines(row), byteLines(row), asks, fails];
  return html`
    <tr role="row" class=${isChosen ? 'chosen' : ''}>
      <th role="rowheader" scope="row">
        ${title}
        <button type="button" aria-pressed=${isChosen} aria-label=${`${choice}: ${title}`}
          @click=${() => (isChosen ? undefined : choose(row.strategy))}>${choice}</button>
      </th>
      ${cells.map((cell, i) => html`<td role="cell" data-title=${COLUMNS[i + 1]!}>${linesOf(cell)}</td>`)}
    </tr>
  `;
}

const linesOf = (cell: string | readonly string[]) =>
  typeof cell === 'string'
    ? html`<span>${cell}</span>`
    : html`<span>${cell.map((line) => html`<span class="line">${line}</span>`)}</span>`;

const hitsText = ({ hitsFromMs, hitsToMs }: Figures): string =>
  hitsFromMs === 0
    ? `up to ${msText(hitsToMs, digitsOf(hitsToMs))} late`
    : `${hitsFromMs} to ${msText(hitsToMs, 1)} late`;

const digitsOf = (value: number): number => (Number.isInteger(value) ? 0 : 1);

const shotLines = ({ pictures, answers }: Figures): string[] => [
  `${pictures} pictures`,
  ...answers.map(
    ({ delayMs, frames, isFalseHit }) =>
      `${msText(delayMs, 0)} late: ${frames} frames${isFalseHit ? ', false hit' : ''}`,
  ),
];

const cycleLines = ({ handlerCycles, undecidedCycles, verdictCycles }: Figures): string[] => [
  `handler ${rangeText(handlerCycles)}`,
  `undecided ${rangeText(undecidedCycles)}`,
  `verdict ${rangeText(verdictCycles)}`,
];

const byteLines = ({ romBytes, ramBytes, ringBytes }: Figures): string[] => [
  `ROM ${grouped(romBytes)}`,
  `RAM ${grouped(ramBytes)}`,
  ...(ringBytes > 0 ? [`ring ${grouped(ringBytes)}`] : []),
];

const rangeText = (values: readonly number[]): string => values.map(grouped).join(' to ');

export const STRATEGY_TABLE_STYLES = css`
  .costs { margin: 1.25rem 0; font-size: 13px; }
  .costs p { max-width: 58rem; }
  .costs summary { color: var(--secondary); font-size: 15px; }
  .costs table { border-collapse: collapse; width: 100%; margin: 0.5rem 0; }
  .costs th { text-align: left; font-weight: normal; }
  .costs thead th {
    color: var(--secondary); border-bottom: 1px solid var(--border); padding: 0.25rem 1rem 0.25rem 0.6rem;
    vertical-align: bottom;
  }
  .costs td { min-width: 5.5rem; }
  .costs tbody th { font-weight: 600; min-width: 7rem; }
  .costs tbody th, .costs td {
    vertical-align: top; padding: 0.6rem 1rem 0.6rem 0.6rem; border-bottom: 1px solid var(--border);
  }
  .costs .chosen { background: var(--sheet); }
  .costs .chosen th { box-shadow: inset 3px 0 var(--light); }
  .costs .line { display: block; white-space: nowrap; }
  .costs button {
    display: block; margin-top: 0.35rem; min-height: 28px; padding: 0 0.5rem; font-size: 13px; font-weight: 400;
  }
  @media (pointer: coarse) { .costs button { min-height: 44px; } }
  .costs [aria-pressed='true'] {
    color: var(--light); border-color: transparent; background: none; padding: 0; cursor: default;
  }
  @media (max-width: 66rem) {
    .costs table, .costs tbody { display: block; }
    .costs thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
    .costs tr { display: block; border-bottom: 1px solid var(--border); padding: 0.6rem 0 0.6rem 0.75rem; }
    .costs .chosen { box-shadow: inset 3px 0 var(--light); }
    .costs .chosen th { box-shadow: none; }
    .costs tbody th, .costs td { display: grid; border: 0; padding: 0.15rem 0.75rem 0.15rem 0; }
    .costs tbody th { grid-template-columns: 1fr max-content; align-items: center; font-size: 15px; }
    .costs tbody th button { margin: 0; }
    .costs td { grid-template-columns: minmax(7rem, 11rem) 1fr; gap: 0 0.75rem; }
    .costs td::before { content: attr(data-title); color: var(--secondary); }
  }
  @media (max-width: 30rem) {
    .costs td { grid-template-columns: 5.5rem 1fr; }
    .costs .line { white-space: normal; }
  }
`;
