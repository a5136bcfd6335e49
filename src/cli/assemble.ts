import { readFileSync, statSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { LatelightError } from '../errors/latelight-error.ts';
import { type AssemblyResult, assembleProgram, listingText, type SourceFiles } from '../program/assembler/assembler.ts';
import { messageText } from '../program/assembler/message-text.ts';
import { labelFileText } from '../program/program-symbols.ts';

/** Files that the command writes. */
export interface AssembleOptions {
  /** The image, `-o`. */
  readonly output?: string | undefined;
  /** The label file, as ld65 writes it. */
  readonly labels?: string | undefined;
  readonly listing?: string | undefined;
}

/** Files of the disk; paths as they are written, from the folder in which the command runs. `paths` = what was read. */
function diskFiles(): { readonly files: SourceFiles; readonly paths: ReadonlySet<string> } {
  const paths = new Set<string>();
  const read = (path: string): Buffer | undefined => {
    const content = readIfThere(path);
    if (content !== undefined) paths.add(resolve(path));
    return content;
  };
  return { files: { readText: (path) => read(path)?.toString('utf8'), readBytes: read }, paths };
}

/**
 * `latelight assemble SOURCE -o IMAGE [--labels FILE] [--listing FILE]`
 *
 * Prints what is wrong on the error stream; writes nothing but the listing when there are errors. Returns the exit status:
 * 0 = done, 1 = refused. Errors: USAGE, FILE_UNREADABLE, FILE_UNWRITABLE.
 */
export function assemble(paths: readonly string[], options: AssembleOptions): number {
  const [source] = paths;
  if (source === undefined || paths.length > 1) {
    throw new LatelightError('USAGE', {
      found: `${paths.length} source files were given`,
      expected: 'one: assemble SOURCE -o IMAGE',
    });
  }
  if (options.output === undefined) {
    throw new LatelightError('USAGE', { found: 'no image file was named', expected: 'assemble SOURCE -o IMAGE' });
  }
  checkSource(source);
  const { files, paths: read } = diskFiles();
  const result = assembleProgram(source, files);
  checkOutputs(read, options);
  for (const message of [...result.errors, ...result.warnings]) console.error(`${messageText(message)}\n`);
  if (options.listing !== undefined) write(options.listing, listingText(result.listing));
  if (result.image === null) {
    console.error(`${source}: ${count(result.errors.length, 'error')}, no image was written`);
    return 1;
  }
  write(options.output, result.image);
  if (options.labels !== undefined) write(options.labels, labelFileText(result.symbols));
  console.log(summary(options.output, result));
  return 0;
}

function checkSource(path: string): void {
  const found = isFolder(path) ? 'it is a folder' : 'there is no such file';
  if (readIfThere(path) === undefined) throw new LatelightError('FILE_UNREADABLE', { path, found });
}

const isFolder = (path: string): boolean => statSync(path, { throwIfNoEntry: false })?.isDirectory() ?? false;

/** Nothing that was read is written over. */
function checkOutputs(read: ReadonlySet<string>, { output, labels, listing }: AssembleOptions): void {
  for (const path of [output, labels, listing]) {
    if (path !== undefined && read.has(resolve(path)))
      throw new LatelightError('USAGE', {
        found: `${path} is a file of the source`,
        expected: 'another name for what is written',
      });
  }
}

const count = (number: number, what: string): string => `${number} ${what}${number === 1 ? '' : 's'}`;

/** One line: what was made and how full it is. */
function summary(output: string, { segments, stretches, image }: AssemblyResult): string {
  const used = segments.filter(({ length }) => length > 0).map(({ name, length }) => `${name} ${length}`);
  const checked = stretches.length === 0 ? '' : `; exact cycles checked in ${count(stretches.length, 'place')}`;
  return `${output}: ${image?.length ?? 0} bytes (${used.join(', ')})${checked}`;
}

function readIfThere(path: string): Buffer | undefined {
  try {
    return readFileSync(path);
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    if (code === 'ENOENT' || code === 'EISDIR' || code === 'ENOTDIR' || code === 'ENAMETOOLONG') return undefined;
    throw new LatelightError('FILE_UNREADABLE', { path, found: message });
  }
}

function write(path: string, content: string | Uint8Array): void {
  try {
    writeFileSync(path, content);
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    const found = code === 'ENOENT' ? 'there is no such folder' : code === 'EISDIR' ? 'it is a folder' : message;
    throw new LatelightError('FILE_UNWRITABLE', { path, found });
  }
}
