import { LatelightError } from '../errors/latelight-error.ts';

/** Bytes of a bench or a scenario that the page reads at most: a thousand times what they have. Our choice. */
export const MOST_TEXT_BYTES = 2 ** 20;

/** Error: FILE_LARGE, before anything is read. */
export function checkSize({ name, size }: Pick<File, 'name' | 'size'>, most: number): void {
  if (size > most) throw new LatelightError('FILE_LARGE', { name, found: size, most });
}

/** A file as text. Errors: FILE_LARGE, FILE_NOT_READ. */
export async function textOf(file: File, most = MOST_TEXT_BYTES): Promise<string> {
  checkSize(file, most);
  return await readOrSay(file, () => file.text());
}

/** A file as bytes. Errors: FILE_LARGE, FILE_NOT_READ. */
export async function bytesOf(file: File, most: number): Promise<Uint8Array> {
  checkSize(file, most);
  return new Uint8Array(await readOrSay(file, () => file.arrayBuffer()));
}

/** A folder, or a file that is gone or may not be read, has a name but no content. */
async function readOrSay<Content>({ name }: File, read: () => Promise<Content>): Promise<Content> {
  try {
    return await read();
  } catch (error) {
    throw new LatelightError('FILE_NOT_READ', { name, found: (error as Error).message });
  }
}
