import { LatelightError } from '../../errors/latelight-error.ts';
import { MOST_IMAGE_BYTES, type ProgramFault } from '../../shot/program-check.ts';
import { bytesOf, checkSize, MOST_TEXT_BYTES } from '../opened-file.ts';
import { kindOf, type OwnFileKind } from './file-kinds.ts';

/** A file that was read. */
export interface ReadFile {
  readonly name: string;
  readonly kind: OwnFileKind;
  readonly bytes: Uint8Array;
}

/** The files that could be read, and why the others could not. */
export interface ReadFiles {
  readonly read: readonly ReadFile[];
  readonly faults: readonly ProgramFault[];
}

/** A debug file of a large program has a few million bytes. Our choice. */
const MOST_LABEL_BYTES = 16 * 2 ** 20;
const MOST_BYTES: Readonly<Record<OwnFileKind, number>> = {
  image: MOST_IMAGE_BYTES,
  labels: MOST_LABEL_BYTES,
  scenario: MOST_TEXT_BYTES,
  bench: MOST_TEXT_BYTES,
};

/** Read files in the page; nothing is sent anywhere. */
export async function readFiles(files: readonly File[]): Promise<ReadFiles> {
  const read: ReadFile[] = [];
  const faults: ProgramFault[] = [];
  for (const file of files) {
    try {
      read.push(await readOne(file));
    } catch (error) {
      faults.push(faultOf(error));
    }
  }
  return { read, faults };
}

/** Errors: FILE_LARGE, FILE_NOT_READ, FILE_UNKNOWN, FILE_IS_PLAN. */
async function readOne(file: File): Promise<ReadFile> {
  const bytes = await bytesOf(file, MOST_LABEL_BYTES);
  const kind = kindOf(file.name, bytes);
  checkSize(file, MOST_BYTES[kind]);
  return { name: file.name, kind, bytes };
}

/** What is no refusal of our own is a defect and goes on. */
export function faultOf(error: unknown): ProgramFault {
  if (!(error instanceof LatelightError)) throw error;
  return { found: error.message, cure: error.hint };
}
