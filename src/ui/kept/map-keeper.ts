import {
  type KeptForm,
  type KeptRun,
  keptFormText,
  keptRunRecord,
  readKeptForm,
  readKeptRun,
} from '../lag-map/kept-map.ts';
import type { KeptFiles } from './kept-files.ts';
import type { KeptNotes } from './kept-notes.ts';
import type { KeptTexts } from './kept-texts.ts';

const FORM = 'latelight.lag-map';
const RUN = 'lag-map';

/** Keeps what is typed for the lag map, and what its shots have shown. */
export class MapKeeper {
  readonly #texts: KeptTexts;
  readonly #files: KeptFiles;
  readonly #notes: KeptNotes;
  #written: string | undefined;

  constructor(texts: KeptTexts, files: KeptFiles, notes: KeptNotes) {
    this.#texts = texts;
    this.#files = files;
    this.#notes = notes;
  }

  /** What was typed; undefined: nothing. What cannot be read is put aside. */
  readForm(): KeptForm | undefined {
    const text = this.#texts.get(FORM);
    if (text === undefined) return undefined;
    const answer = readKeptForm(text);
    if ('kept' in answer) return answer.kept;
    const name = this.#texts.putAside(FORM) ?? FORM;
    this.#notes.tell({ what: 'of the form of the lag map', faults: answer.faults, name, text });
    return undefined;
  }

  keepForm(form: KeptForm): void {
    const text = keptFormText(form);
    if (text !== this.#written) this.#texts.put(FORM, text);
    this.#written = text;
  }

  /** What was known; undefined: nothing. What cannot be read is put aside. */
  async readRun(): Promise<KeptRun | undefined> {
    try {
      const record = await this.#files.get(RUN);
      const run = record === undefined ? undefined : readKeptRun(record);
      if (record !== undefined && run === undefined)
        await this.#putAside(record, undefined, 'found something else than this page writes');
      return run;
    } catch {
      this.#notes.refuse();
      return undefined;
    }
  }

  /** The run could be read, and is no use: why not. */
  async refuseRun(run: KeptRun, why: string): Promise<void> {
    try {
      await this.#putAside(keptRunRecord(run), [run.plan, ...run.journal].join('\n'), why);
    } catch {
      this.#notes.refuse();
    }
  }

  async keepRun(run: KeptRun): Promise<void> {
    try {
      await this.#files.put(RUN, keptRunRecord(run));
    } catch {
      this.#notes.refuse();
    }
  }

  async #putAside(record: unknown, text: string | undefined, fault: string): Promise<void> {
    const name = await this.#files.putAside(RUN, record);
    this.#notes.tell({ what: 'of the shots of the lag map', faults: [fault], name, text });
  }
}
