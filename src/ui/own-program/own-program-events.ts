import type { OwnParts } from './own-desk.ts';
import type { OwnProgram } from './own-program.ts';
import type { ReadFile } from './read-files.ts';

/** Another own program stands on the page, or none. */
export class OwnProgramEvent extends Event {
  readonly program: OwnProgram | undefined;
  /** It is to be played now. */
  readonly isChosen: boolean;
  /** A scenario came with it: its light path and aim are meant. */
  readonly isSetUpGiven: boolean;

  constructor(program: OwnProgram | undefined, isChosen: boolean, isSetUpGiven: boolean) {
    super('own-program', { bubbles: true, composed: true });
    this.program = program;
    this.isChosen = isChosen;
    this.isSetUpGiven = isSetUpGiven;
  }
}

/** Something of the own program has become another: it is to be kept. */
export class OwnPartsEvent extends Event {
  readonly parts: OwnParts;

  constructor(parts: OwnParts) {
    super('own-parts', { bubbles: true, composed: true });
    this.parts = parts;
  }
}

/** A saved bench was among the files that were chosen. */
export class BenchFileEvent extends Event {
  readonly file: ReadFile;

  constructor(file: ReadFile) {
    super('bench-file', { bubbles: true, composed: true });
    this.file = file;
  }
}
