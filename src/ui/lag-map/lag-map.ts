import './lag-map-chart.ts';
import './lag-map-form.ts';
import { html, LitElement, nothing, type PropertyValues } from 'lit';
import { drawnShot } from '../../sweep/draws.ts';
import { prepareCell } from '../../sweep/plan.ts';
import type { LightPathSettings, PlayAim } from '../../workers/play.api.ts';
import { FIRST_STATE } from '../bench/bench-state.ts';
import { type PlayableProgram, PROGRAMS } from '../programs.ts';
import { saveFile } from '../ruler/ruler-files.ts';
import { costMs } from './estimate.ts';
import { LAG_MAP_STYLES } from './lag-map.styles.ts';
import type { LagMapChart } from './lag-map-chart.ts';
import { type ChooseCellEvent, type FormEvent, OpenShotEvent } from './lag-map-events.ts';
import { FILE_KINDS, type FileKind, mapFile } from './map-files.ts';
import { MapMemory, type MapStore } from './map-memory.ts';
import { MapRun } from './map-run.ts';
import { type MapTable, mapCell, mapTable, tellingShot } from './map-table.ts';
import { axesText, filesBeside, type OpenedPlan, PLAN_PATH, programOf } from './opened-plan.ts';
import { PlanDesk } from './plan-desk.ts';
import type { PlanData } from './plan-form.ts';
import { sizeText, stateText } from './run-texts.ts';
import { textTable } from './text-table.ts';

/** What is drawn of a plan; kept, for it is the same at every update. */
interface DrawnTable {
  readonly fingerprint: string;
  readonly table: MapTable;
  /** Whether the shots of a row are of a program of the page. */
  readonly openable: readonly boolean[];
}

/**
 * The sampled lag map: strategies by delays, run in workers of the page.
 * @fires open-shot - `detail`: strategy, light path, aim, number and instant of the shot that the bench is to play.
 */
export class LagMap extends LitElement {
  static override properties = {
    programs: { attribute: false },
    lightPath: { attribute: false },
    aim: { attribute: false },
    plan: { attribute: false },
    store: { attribute: false },
    isTableOpen: { state: true },
  };

  static override styles = LAG_MAP_STYLES;

  /** Programs whose strategies can be compared. */
  declare programs: readonly PlayableProgram[];
  /** Light path and aim that stand on the bench. */
  declare lightPath: LightPathSettings;
  declare aim: PlayAim;
  /** A suggested plan, as a plan file says it; undefined = what the form holds. */
  declare plan: PlanData | undefined;
  /** Where form and shots stay when the page is closed; undefined: nowhere. */
  declare store: MapStore | undefined;
  declare private isTableOpen: boolean;
  readonly #desk = new PlanDesk(this, FIRST_STATE);
  readonly #run = new MapRun(this);
  readonly #memory = new MapMemory(this, this.#desk, this.#run);
  #table: DrawnTable | undefined;
  #cost: { readonly key: string; readonly ms: number } | undefined;

  constructor() {
    super();
    this.programs = PROGRAMS;
    this.lightPath = FIRST_STATE.lightPath;
    this.aim = FIRST_STATE.aim;
    this.plan = undefined;
    this.store = undefined;
    this.isTableOpen = false;
  }

  override willUpdate(changed: PropertyValues): void {
    const { lightPath, aim } = this;
    if (changed.has('lightPath') || changed.has('aim')) this.#desk.followBench({ lightPath, aim });
    if (changed.has('programs')) void this.#load();
    if (changed.has('plan') && this.plan !== undefined) this.#desk.suggest(this.plan);
  }

  async #load(): Promise<void> {
    const isThere = await this.#desk.load(this.programs);
    if (isThere && this.store !== undefined) await this.#memory.restore(this.store);
  }

  override render() {
    const { opened, problem } = this.#desk;
    const shown = this.#shown;
    return html`
      <p class="lead">Which strategy survives which lag: every strategy is shot at through pictures that come later and later.
        The map has Lamplighter's strategies; an image of your own is swept by <code>latelight sweep</code>.</p>
      <section aria-labelledby="what">
        <h2 id="what">What is tried</h2>
        ${this.#form()}
        ${this.#size()}
        ${
          problem === undefined
            ? nothing
            : html`<div class="problem" role="alert"><p class="wrong">✕ ${problem.title}</p><p>${problem.refusal.refused}.</p><p class="secondary">${problem.refusal.hint}</p></div>`
        }
        <div class="row">
          ${this.#runButton()}
          <button ?disabled=${opened === undefined} @click=${this.#savePlan}>Save the plan</button>
          <button @click=${this.#askForFile}>Open a plan</button>
          <input class="unseen" type="file" accept=".json,application/json" tabindex="-1" aria-label="plan file" @change=${this.#openFile} />
        </div>
        ${this.#beside()}
      </section>
      <section aria-labelledby="map-title">
        <h2 id="map-title">${shown?.sweep.document.title ?? 'Lag map'}</h2>
        ${stateText(this.#run, opened?.sweep)}
        ${shown === undefined ? html`<p class="secondary">There is no plan to draw.</p>` : this.#map(shown)}
      </section>
    `;
  }

  /** The plan whose map is seen: that which has results, else that which would be run. */
  get #shown(): OpenedPlan | undefined {
    const { state, plan, results } = this.#run;
    return plan !== undefined && (state === 'running' || results.size > 0) ? plan : (this.#desk.opened ?? plan);
  }

  #form() {
    const { values, faults, setUp, programs, asOpened, opened, isHeld } = this.#desk;
    if (values === undefined) return html`<p class="secondary">The programs are being fetched.</p>`;
    if (asOpened !== undefined && opened !== undefined)
      return html`
        <p>An opened plan is run as it is. It has:</p>
        <ul>${axesText(opened.sweep).map((line) => html`<li>${line}</li>`)}</ul>
        <div class="row"><button @click=${() => this.#desk.putAway()}>Put it away and use the form</button></div>
      `;
    return html`
      <lag-map-form .values=${values} .faults=${faults} .setUp=${setUp} .programs=${programs} @form-values=${this.#formChanged}></lag-map-form>
      ${
        isHeld
          ? html`<div class="row"><span class="secondary">Light path and aim are those of the opened plan.</span>
              <button @click=${() => this.#desk.takeBench()}>Take those of the bench</button></div>`
          : nothing
      }
    `;
  }

  #size() {
    const { opened, faults } = this.#desk;
    if (opened !== undefined) {
      // While it runs its own pace is told.
      const costMs = this.#run.state === 'running' ? 0 : this.#costOf(opened);
      return sizeText(opened.sweep, this.#run, costMs);
    }
    return html`<p class="size secondary">${faults.length > 0 ? 'What is marked has to be put right before it can be run.' : ''}</p>`;
  }

  #runButton() {
    if (this.#run.state === 'running')
      return html`<button class="primary" @click=${() => this.#run.cancel()}>Cancel the run</button>`;
    const { opened } = this.#desk;
    const left = opened === undefined ? 0 : this.#run.missing(opened.sweep).length;
    const isPart = opened !== undefined && left > 0 && left < opened.sweep.cellCount;
    return html`<button class="primary" ?disabled=${left === 0} @click=${this.#start}>${isPart ? 'Go on with the run' : 'Run it'}</button>`;
  }

  #beside() {
    const { opened, asOpened } = this.#desk;
    if (opened === undefined || asOpened !== undefined) return nothing;
    return html`<details><summary>The saved plan on the command line</summary>
      <p>Put the saved file <code>${PLAN_PATH}</code> beside <code>${filesBeside(opened.sweep).join(', ')}</code>
        (in the repository: <code>homebrew-demo/lamplighter</code>), then <code>latelight sweep ${PLAN_PATH}</code>. The scenario is
        written into the plan.</p></details>`;
  }

  #map(shown: OpenedPlan) {
    const { table, openable } = this.#drawn(shown);
    const { rates, inProgress } = this.#run;
    return html`
      <lag-map-chart .table=${table} .rates=${rates} .inProgress=${inProgress} .openable=${openable} @choose-cell=${this.#openShot}></lag-map-chart>
      <div class="row saves"><span>Save the map as</span>
        ${FILE_KINDS.map((kind) => html`<button ?disabled=${rates.size === 0} @click=${() => this.#save(kind)}>${kind}</button>`)}
      </div>
      <details @toggle=${(event: Event) => {
        this.isTableOpen = (event.target as HTMLDetailsElement).open;
      }}><summary>The map as a table</summary>${this.isTableOpen ? textTable(table, rates) : nothing}</details>
    `;
  }

  #drawn({ sweep }: OpenedPlan): DrawnTable {
    if (this.#table?.fingerprint === sweep.fingerprint) return this.#table;
    const table = mapTable(sweep.entries);
    const openable = table.rows.map(({ cells }) => programOf(sweep, cells[0]![0]!, this.#desk.programs) !== undefined);
    this.#table = { fingerprint: sweep.fingerprint, table, openable };
    return this.#table;
  }

  #costOf({ sweep }: OpenedPlan): number {
    const missing = this.#run.missing(sweep);
    const key = `${sweep.fingerprint} ${missing.length}`;
    if (this.#cost?.key !== key) this.#cost = { key, ms: costMs(sweep, missing) };
    return this.#cost.ms;
  }

  #formChanged = ({ values }: FormEvent): void => this.#desk.type(values);

  #askForFile = (): void => {
    this.renderRoot.querySelector<HTMLInputElement>('input[type="file"]')!.click();
  };

  #openFile = async (event: Event): Promise<void> => {
    const input = event.target as HTMLInputElement;
    const [file] = input.files ?? [];
    if (file === undefined) return;
    const text = await file.text();
    input.value = '';
    this.#desk.open(text, file.name);
  };

  #start = (): void => {
    const plan = this.#desk.readNow();
    if (plan === undefined) return;
    this.#desk.problem = undefined;
    void this.#run.start(plan);
  };

  #savePlan = (): void => {
    if (this.#desk.readNow() === undefined) return;
    saveFile(new Blob([this.#desk.planText], { type: 'application/json' }), PLAN_PATH);
  };

  async #save(kind: FileKind): Promise<void> {
    const { plan, results } = this.#run;
    const chart = this.renderRoot.querySelector<LagMapChart>('lag-map-chart');
    if (plan === undefined || chart === null) return;
    const file = await mapFile(kind, plan.sweep, [...results.values()], chart.layout, chart.view);
    if (file !== undefined) saveFile(file, `lag-map.${kind.toLowerCase()}`);
  }

  #openShot = ({ row, column }: ChooseCellEvent): void => {
    const { plan, rates } = this.#run;
    if (plan === undefined) return;
    const { sweep } = plan;
    const telling = tellingShot(mapCell(this.#drawn(plan).table.rows[row]!.cells[column]!, rates));
    if (telling === undefined) return;
    const { result, shot } = telling;
    const { prepared, free, seed } = prepareCell(sweep, result.cell);
    const strategy = programOf(sweep, result.cell, this.#desk.programs);
    const aim = { x: result.x, y: result.y };
    const drawn = drawnShot(prepared, aim, free, seed, shot).scenario;
    const { lightPath, shots } = drawn;
    const [scenario, atMs] = [JSON.stringify(drawn), shots[0]!.atMs];
    if (strategy !== undefined)
      this.dispatchEvent(new OpenShotEvent({ strategy, lightPath, aim, shot: shot + 1, atMs, scenario }));
  };
}

customElements.define('lag-map', LagMap);

declare global {
  interface HTMLElementTagNameMap {
    'lag-map': LagMap;
  }
}
