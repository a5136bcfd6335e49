import type { ReactiveControllerHost } from 'lit';
import type { ProgramFault } from '../../shot/program-check.ts';
import { doubts, EMPTY_DRAFT, missingParts, type OwnDraft, withFiles } from './own-draft.ts';
import { draftFaults, type OwnProgram, programOf } from './own-program.ts';
import { faultOf, type ReadFile, readFiles } from './read-files.ts';

/** What files that were chosen together have become. */
export interface TakenFiles {
  /** With what was there before they are a program, which stands on the bench now. */
  readonly isOnBench: boolean;
  /** A scenario was among them, and stands there too. */
  readonly isSetUpGiven: boolean;
  /** A saved bench was among them. */
  readonly bench: ReadFile | undefined;
}

/** An own program as it is kept: what is being put together, and what stands on the bench. */
export interface OwnParts {
  readonly draft: OwnDraft;
  readonly onBench: OwnDraft | undefined;
}

/** The scenario is checked when nobody has typed for so long. Our choice. */
const CHECK_DELAY_MS = 250;

/** Where an own program is put together; what stands on the bench stays there until the draft can take its place. */
export class OwnDesk {
  readonly #host: ReactiveControllerHost;
  readonly #changed: () => void;
  #parts: OwnParts = { draft: EMPTY_DRAFT, onBench: undefined };
  #before: OwnParts | undefined;
  #program: OwnProgram | undefined;
  #versions = 0;
  #faults: readonly ProgramFault[] = [];
  #refused: readonly ProgramFault[] = [];
  #timer: ReturnType<typeof setTimeout> | undefined;

  /** `changed` is called when anything of the parts has become another. */
  constructor(host: ReactiveControllerHost, changed: () => void) {
    this.#host = host;
    this.#changed = changed;
  }

  get parts(): OwnParts {
    return this.#parts;
  }

  get draft(): OwnDraft {
    return this.#parts.draft;
  }

  /** What stands on the bench. */
  get program(): OwnProgram | undefined {
    return this.#program;
  }

  /** What keeps the draft from being played. */
  get faults(): readonly ProgramFault[] {
    return this.#faults;
  }

  /** Why files that were chosen last were not taken. */
  get refused(): readonly ProgramFault[] {
    return this.#refused;
  }

  get missing(): readonly string[] {
    return missingParts(this.draft);
  }

  get doubts(): readonly string[] {
    return doubts(this.draft);
  }

  get canPutBack(): boolean {
    return this.#before !== undefined;
  }

  get isEmpty(): boolean {
    const { image, labels, scenario } = this.draft;
    return image === undefined && labels === undefined && scenario === '';
  }

  /** The draft is what stands on the bench. */
  get isOnBench(): boolean {
    const { draft, onBench } = this.#parts;
    return (
      onBench !== undefined &&
      draft.image?.content === onBench.image?.content &&
      draft.labels?.content === onBench.labels?.content &&
      draft.scenario === onBench.scenario
    );
  }

  /** Take files that were chosen together, and put what is whole on the bench. */
  async take(files: readonly File[]): Promise<TakenFiles> {
    const { read, faults } = await readFiles(files);
    const bench = read.find(({ kind }) => kind === 'bench');
    const parts = read.filter(({ kind }) => kind !== 'bench');
    this.#refused = faults;
    const isOnBench = parts.length > 0 && this.#add(parts) && this.putOnBench();
    this.#host.requestUpdate();
    return { isOnBench, isSetUpGiven: isOnBench && parts.some(({ kind }) => kind === 'scenario'), bench };
  }

  #add(files: readonly ReadFile[]): boolean {
    try {
      this.#become({ ...this.#parts, draft: withFiles(this.draft, files) }, true);
      return true;
    } catch (error) {
      this.#refused = [...this.#refused, faultOf(error)];
      return false;
    }
  }

  /** The scenario is this text now. */
  type(scenario: string): void {
    this.#become({ ...this.#parts, draft: { ...this.draft, scenario } }, false);
    clearTimeout(this.#timer);
    this.#timer = setTimeout(this.#check, CHECK_DELAY_MS);
  }

  /** The draft takes the place of what stands on the bench, if nothing is wrong with it. */
  putOnBench(): boolean {
    this.#check();
    if (this.draft.image === undefined || this.#faults.length > 0) return false;
    this.#put({ draft: this.draft, onBench: this.draft });
    return true;
  }

  /** What stood before the latest files, or before it was taken off; the other way round the next time. */
  putBack(): void {
    const before = this.#before;
    if (before === undefined) return;
    this.#refused = [];
    this.#before = this.#parts;
    this.#put(before);
  }

  /** Take everything off the page. */
  takeOff(): void {
    this.#refused = [];
    this.#before = this.#parts;
    this.#put({ draft: { ...EMPTY_DRAFT, takes: this.draft.takes }, onBench: undefined });
  }

  /** Take what was kept; it is no step that can be taken back. */
  restore(parts: OwnParts): void {
    this.#put(parts);
  }

  #put(parts: OwnParts): void {
    const isOther = parts.onBench !== this.#parts.onBench;
    if (isOther) this.#program = parts.onBench && programOf(parts.onBench, ++this.#versions);
    this.#become(parts, false);
    this.#check();
  }

  #become(parts: OwnParts, canBePutBack: boolean): void {
    if (canBePutBack && !this.isEmpty) this.#before = this.#parts;
    this.#parts = parts;
    this.#changed();
    this.#host.requestUpdate();
  }

  #check = (): void => {
    clearTimeout(this.#timer);
    this.#faults = draftFaults(this.draft);
    this.#host.requestUpdate();
  };
}
