import type { OwnParts } from '../own-program/own-desk.ts';
import { EMPTY_DRAFT } from '../own-program/own-draft.ts';
import type { KeptFiles } from './kept-files.ts';
import type { KeptNotes } from './kept-notes.ts';
import { type KeptScenario, keptOwn, keptScenarioText, readKeptOwn, readKeptScenario } from './kept-own.ts';
import type { KeptTexts } from './kept-texts.ts';

const FILES = 'own';
const SCENARIO = 'latelight.scenario';
const FOUND = 'found something else than this page writes';

/** Keeps an own program: its files with what stands on the bench, and at every key the text that is typed. */
export class OwnKeeper {
  readonly #texts: KeptTexts;
  readonly #files: KeptFiles;
  readonly #notes: KeptNotes;
  #kept: OwnParts | undefined;

  constructor(texts: KeptTexts, files: KeptFiles, notes: KeptNotes) {
    this.#texts = texts;
    this.#files = files;
    this.#notes = notes;
  }

  /** What was kept; undefined: nothing. What cannot be read is put aside. */
  async read(): Promise<OwnParts | undefined> {
    const parts = await this.#readFiles();
    const scenario = this.#readScenario();
    if (parts === undefined && scenario === undefined) return undefined;
    const { draft, onBench } = parts ?? { draft: EMPTY_DRAFT, onBench: undefined };
    this.#kept = { draft: { ...draft, ...scenario }, onBench };
    return this.#kept;
  }

  async keep(parts: OwnParts): Promise<void> {
    const before = this.#kept;
    this.#kept = parts;
    const { image, labels, scenario } = parts.draft;
    if (scenario === '') this.#texts.remove(SCENARIO);
    else if (scenario !== before?.draft.scenario) this.#texts.put(SCENARIO, keptScenarioText(parts.draft));
    if (image === before?.draft.image && labels === before?.draft.labels && parts.onBench === before?.onBench) return;
    const isEmpty = image === undefined && labels === undefined && parts.onBench === undefined;
    try {
      await (isEmpty ? this.#files.remove(FILES) : this.#files.put(FILES, keptOwn(parts)));
    } catch {
      this.#notes.refuse();
    }
  }

  async #readFiles(): Promise<OwnParts | undefined> {
    try {
      const record = await this.#files.get(FILES);
      const parts = record === undefined ? undefined : readKeptOwn(record);
      if (record === undefined || parts !== undefined) return parts;
      const name = await this.#files.putAside(FILES, record);
      this.#notes.tell({ what: 'of your image', faults: [FOUND], name, text: undefined });
    } catch {
      this.#notes.refuse();
    }
    return undefined;
  }

  #readScenario(): KeptScenario | undefined {
    const text = this.#texts.get(SCENARIO);
    const scenario = text === undefined ? undefined : readKeptScenario(text);
    if (text !== undefined && scenario === undefined) {
      const name = this.#texts.putAside(SCENARIO) ?? SCENARIO;
      this.#notes.tell({ what: 'of the scenario of your image', faults: [FOUND], name, text });
    }
    return scenario;
  }
}
