import type { ReactiveControllerHost } from 'lit';
import type { LightPathSettings } from '../../workers/play.api.ts';
import { type EditHistory, edited, historyOf, redone, undone } from './edit-history.ts';
import { hasOtherOrder } from './light-edits.ts';
import type { DraftEvent, LightPathEvent } from './station-form.ts';

/** Steps in one field so soon after each other are one step. Our choice. */
const ONE_STEP_MS = 1500;

/** The way of the light as somebody edits it: what it is, what it was before, and what is typed where there is no value yet. */
export class LightDesk {
  readonly #host: ReactiveControllerHost;
  readonly #changed: () => void;
  #edits: EditHistory<LightPathSettings>;
  #drafts: Readonly<Record<string, string>> = {};
  #lastField = '';
  #lastFieldMs = 0;

  /** `changed` is called when the path has become another. */
  constructor(host: ReactiveControllerHost, first: LightPathSettings, changed: () => void) {
    this.#host = host;
    this.#edits = historyOf(first);
    this.#changed = changed;
  }

  get path(): LightPathSettings {
    return this.#edits.present;
  }

  /** The path with what can be taken back and forth. */
  get edits(): EditHistory<LightPathSettings> {
    return this.#edits;
  }

  /** By field of the stations' forms. */
  get drafts(): Readonly<Record<string, string>> {
    return this.#drafts;
  }

  get canUndo(): boolean {
    return this.#edits.past.length > 0;
  }

  get canRedo(): boolean {
    return this.#edits.future.length > 0;
  }

  /** Change the path; what is typed into one field without a pause is one step. An empty name is no field. */
  edit(lightPath: LightPathSettings, field: string): void {
    const now = performance.now();
    const isSameStep =
      field !== '' && field === this.#lastField && now - this.#lastFieldMs < ONE_STEP_MS && this.canUndo;
    this.#lastField = field;
    this.#lastFieldMs = now;
    this.#drafts = draftsOf(lightPath, this.path, this.#drafts);
    this.#become(edited(isSameStep ? undone(this.#edits) : this.#edits, lightPath));
  }

  /** Another path takes the place of all that stands: always one step, and nothing typed belongs to it. */
  open(lightPath: LightPathSettings): void {
    if (JSON.stringify(lightPath) === JSON.stringify(this.path)) return;
    this.#step(edited(this.#edits, lightPath));
  }

  /** Take what was kept; it is no step. */
  restore(edits: EditHistory<LightPathSettings>, drafts: Readonly<Record<string, string>>): void {
    this.#drafts = drafts;
    this.#become(edits);
  }

  follow = ({ lightPath, field }: LightPathEvent): void => this.edit(lightPath, field);

  /** The next change is a step of its own. */
  endStep = (): void => {
    this.#lastField = '';
  };

  keepDraft = ({ field, text }: DraftEvent): void => {
    const { [field]: _, ...others } = this.#drafts;
    this.#drafts = text === null ? others : { ...others, [field]: text };
    this.#host.requestUpdate();
  };

  /** Nothing, not even a typed text, becomes another where there is no step. */
  undo = (): void => {
    if (this.canUndo) this.#step(undone(this.#edits));
  };

  /** As `undo`. */
  redo = (): void => {
    if (this.canRedo) this.#step(redone(this.#edits));
  };

  #step(edits: EditHistory<LightPathSettings>): void {
    this.#lastField = '';
    this.#drafts = {};
    this.#become(edits);
  }

  #become(edits: EditHistory<LightPathSettings>): void {
    const isOther = edits.present !== this.#edits.present;
    this.#edits = edits;
    this.#host.requestUpdate();
    if (isOther) this.#changed();
  }
}

/** What is typed goes along with its stage when stages are added, moved or taken out. */
function draftsOf(
  lightPath: LightPathSettings,
  before: LightPathSettings,
  drafts: Readonly<Record<string, string>>,
): Readonly<Record<string, string>> {
  if (!hasOtherOrder(lightPath, before)) return drafts;
  return Object.fromEntries(
    Object.entries(drafts).flatMap(([field, text]) => {
      const [part, index, name] = field.split('.');
      if (part !== 'stages') return [[field, text]];
      const at = lightPath.stages.indexOf(before.stages[Number(index)]!);
      return at < 0 ? [] : [[`stages.${at}.${name}`, text]];
    }),
  );
}
