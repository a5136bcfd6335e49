import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { Refusal } from '../../workers/refusal.ts';
import { fetchProgram, type PlayableProgram } from '../programs.ts';
import type { KeptForm } from './kept-map.ts';
import { type OpenedPlan, openOnPage } from './opened-plan.ts';
import type { BenchSetUp, LoadedProgram } from './plan-choices.ts';
import {
  type FormFault,
  type FormValues,
  firstValues,
  formFaults,
  formOf,
  type PlanData,
  planOf,
} from './plan-form.ts';
import { problemOf } from './problem.ts';

/** What went wrong, and with what. */
export interface DeskProblem {
  readonly title: string;
  readonly refusal: Refusal;
}

/** A form is read when nobody has typed for so long. Our choice. */
const READ_DELAY_MS = 150;

/** Where plans are made: in a form that keeps whatever is typed, or opened from a file and run as they are. */
export class PlanDesk implements ReactiveController {
  readonly #host: ReactiveControllerHost;
  programs: readonly LoadedProgram[] = [];
  /** Undefined until the programs are there. */
  values: FormValues | undefined;
  /** Replaced only when something is typed, so that the form is left alone while cells come in; as `setUp`. */
  faults: readonly FormFault[] = [];
  /** Light path and aim of the plan. */
  setUp: BenchSetUp;
  /** They are those of an opened plan, not of the bench. */
  isHeld = false;
  /** Text of an opened plan that is more than the form can show. */
  asOpened: string | undefined;
  /** What would be run now; undefined where something is wrong. */
  opened: OpenedPlan | undefined;
  problem: DeskProblem | undefined;
  #bench: BenchSetUp;
  #wanted: readonly PlayableProgram[] = [];
  #suggested: PlanData | undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor(host: ReactiveControllerHost, bench: BenchSetUp) {
    this.#host = host;
    this.#bench = bench;
    this.setUp = bench;
    host.addController(this);
  }

  hostConnected(): void {
    if (this.values !== undefined) this.#readSoon();
  }

  hostDisconnected(): void {
    this.#stopTimer();
  }

  /** Fetch programs and begin with a form that has all of them. False: they are not there. */
  async load(programs: readonly PlayableProgram[]): Promise<boolean> {
    this.#wanted = programs;
    try {
      const loaded = await Promise.all(
        programs.map(async (program) => ({ id: program.id, title: program.title, ...(await fetchProgram(program)) })),
      );
      if (programs !== this.#wanted) return false;
      this.programs = loaded;
      this.#type(firstValues(this.setUp, loaded));
      if (this.#suggested !== undefined) this.suggest(this.#suggested);
      return true;
    } catch (error) {
      const hint = 'See to the connection and load the page again.';
      this.#tell({ title: 'The programs could not be fetched', refusal: { ...problemOf(error), hint } });
      return false;
    }
  }

  /** What is kept when the page is closed; undefined until there is a form. */
  get kept(): KeptForm | undefined {
    const { values, setUp, isHeld, asOpened } = this;
    return values && { values, held: isHeld ? setUp : undefined, asOpened };
  }

  /** Take what was kept; for a desk that has its programs. */
  restore({ values, held, asOpened }: KeptForm): void {
    this.isHeld = held !== undefined;
    this.setUp = held ?? this.#bench;
    this.asOpened = asOpened;
    this.#type(values);
  }

  /** Something else stands on the bench. What was chosen of its own panel and aim goes with it. */
  followBench(bench: BenchSetUp): void {
    this.#bench = bench;
    if (!this.isHeld) this.#putOn(bench);
  }

  /** Light path and aim are those of the bench again. */
  takeBench(): void {
    this.isHeld = false;
    this.#putOn(this.#bench);
  }

  type(values: FormValues): void {
    this.problem = undefined;
    this.#type(values);
  }

  suggest(plan: PlanData): void {
    this.#suggested = plan;
    if (this.values !== undefined) this.open(JSON.stringify(plan), 'the suggested plan');
  }

  /** Take a plan for what is to be run; one that is refused leaves everything as it was. */
  open(text: string, name: string): void {
    let opened: OpenedPlan;
    try {
      opened = openOnPage(text, this.programs, name);
    } catch (error) {
      this.#tell({ title: `${name} was not opened`, refusal: problemOf(error) });
      return;
    }
    this.#stopTimer();
    this.opened = opened;
    this.problem = undefined;
    const form = formOf(JSON.parse(text.replace(/^\uFEFF/, '')) as PlanData, this.#bench, this.programs);
    this.asOpened = form === undefined ? text : undefined;
    if (form !== undefined) {
      this.values = form.values;
      this.faults = [];
      this.setUp = form.setUp;
      this.isHeld = form.setUp !== this.#bench;
    }
    this.#host.requestUpdate();
  }

  /** Back to the form. */
  putAway(): void {
    this.asOpened = undefined;
    this.problem = undefined;
    this.#read();
  }

  /** What would be run now, also where somebody is quicker than the form is read. */
  readNow(): OpenedPlan | undefined {
    if (this.#timer !== undefined) this.#read();
    return this.opened;
  }

  /** The plan as the text of a file. */
  get planText(): string {
    return this.asOpened ?? `${JSON.stringify(planOf(this.values!, this.setUp, this.programs), null, 2)}\n`;
  }

  #putOn(setUp: BenchSetUp): void {
    const before = this.setUp;
    this.setUp = setUp;
    if (this.values === undefined) return;
    const [old, now] = [firstValues(before, this.programs), firstValues(setUp, this.programs)];
    const follow = (chosen: readonly string[], was: readonly string[], is: readonly string[]): string[] => [
      ...chosen.filter((name) => is.includes(name)),
      ...is.filter((name) => !was.includes(name)),
    ];
    this.#type({
      ...this.values,
      panels: follow(this.values.panels, old.panels, now.panels),
      aims: follow(this.values.aims, old.aims, now.aims),
    });
  }

  #type(values: FormValues): void {
    this.values = values;
    this.faults = formFaults(values, this.setUp, this.programs);
    this.#host.requestUpdate();
    this.#readSoon();
  }

  #readSoon(): void {
    this.#stopTimer();
    this.#timer = setTimeout(() => this.#read(), READ_DELAY_MS);
  }

  #stopTimer(): void {
    clearTimeout(this.#timer);
    this.#timer = undefined;
  }

  #read(): void {
    this.#stopTimer();
    this.opened = undefined;
    this.#host.requestUpdate();
    if (this.asOpened === undefined && this.faults.length > 0) return;
    try {
      this.opened = openOnPage(this.planText, this.programs);
    } catch (error) {
      this.#tell({ title: 'This cannot be run', refusal: problemOf(error) });
    }
  }

  #tell(problem: DeskProblem): void {
    this.problem = problem;
    this.#host.requestUpdate();
  }
}
