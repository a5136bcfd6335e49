import { readFileSync, statSync } from 'node:fs';
import { LatelightError } from '../errors/latelight-error.ts';
import {
  type AssemblyMessage,
  type AssemblyResult,
  assembleProgram,
  listingText,
  type SourceFiles,
} from '../program/assembler/assembler.ts';
import { messageText } from '../program/assembler/message-text.ts';
import { labelFileText } from '../program/program-symbols.ts';
import { fileKey } from './file-key.ts';
import { writeFile } from './files.ts';

/** Files that the command writes. */
export interface AssembleOptions {
  /** The image, `-o`. */
  readonly output?: string | undefined;
  /** The label file, as ld65 writes it. */
  readonly labels?: string | undefined;
  readonly listing?: string | undefined;
}

/** Files of the disk; paths as they are written, from the folder in which the command runs. `paths` = keys of what was read. */
function diskFiles(): { readonly files: SourceFiles; readonly paths: ReadonlySet<string> } {
  const paths = new Set<string>();
  const read = (path: string): Buffer | undefined => {
    const content = readIfThere(path);
    if (content !== undefined) paths.add(fileKey(path));
    return content;
  };
  return { files: { readText: (path) => read(path)?.toString('utf8'), readBytes: read }, paths };
}

/**
 * `latelight assemble SOURCE -o IMAGE [--labels FILE] [--listing FILE]`
 *
 * Prints what is wrong on the error stream; when there are errors it writes nothing but the listing, which shows them.
 * Returns the exit status: 0 = done, 1 = refused. Errors: USAGE, SOURCE_UNREADABLE, FILE_UNREADABLE, FILE_UNWRITABLE.
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
  printMessages(result.errors, 'error');
  printMessages(result.warnings, 'warning');
  if (options.listing !== undefined)
    writeFile(options.listing, listingText(result.listing, [...result.errors, ...result.warnings]));
  if (result.image === null) {
    console.error(`${source}: ${count(result.errors.length, 'error')}, no image was written`);
    return 1;
  }
  writeFile(options.output, result.image);
  if (options.labels !== undefined) writeFile(options.labels, labelFileText(result.symbols));
  console.log(summary(options.output, result));
  return 0;
}

/** A page of messages; who corrects those needs no more at once. */
const MOST_PRINTED = 20;

function printMessages(messages: readonly AssemblyMessage[], what: 'error' | 'warning'): void {
  for (const message of messages.slice(0, MOST_PRINTED)) console.error(`${messageText(message)}\n`);
  const rest = messages.length - MOST_PRINTED;
  if (rest > 0) console.error(`and ${count(rest, `more ${what}`)}; --listing FILE shows them all\n`);
}

function checkSource(path: string): void {
  const found = isFolder(path) ? 'it is a folder' : 'there is no such file';
  if (readIfThere(path) === undefined) throw new LatelightError('SOURCE_UNREADABLE', { path, found });
}

const isFolder = (path: string): boolean => statSync(path, { throwIfNoEntry: false })?.isDirectory() ?? false;

/** Nothing that was read is written over, and no output by another one. */
function checkOutputs(read: ReadonlySet<string>, { output, labels, listing }: AssembleOptions): void {
  const written = new Map<string, string>();
  for (const [name, path] of Object.entries({ '-o': output, '--labels': labels, '--listing': listing })) {
    if (path === undefined || isDevice(path)) continue;
    const key = fileKey(path);
    const expected = 'another name for what is written';
    if (read.has(key)) throw new LatelightError('USAGE', { found: `${path} is a file of the source`, expected });
    const other = written.get(key);
    if (other !== undefined)
      throw new LatelightError('USAGE', { found: `${other} and ${name} name one file, ${path}`, expected });
    written.set(key, name);
  }
}

/** Such as /dev/null: nothing in it is lost. */
function isDevice(path: string): boolean {
  const found = statSync(path, { throwIfNoEntry: false });
  return found !== undefined && !found.isFile() && !found.isDirectory();
}

const count = (number: number, what: string): string => `${number} ${what}${number === 1 ? '' : 's'}`;

/** One line: what was made, how full it is, and what was checked under which assumption. */
function summary(output: string, { segments, stretches, image }: AssemblyResult): string {
  const used = segments.filter(({ length }) => length > 0).map(({ name, length }) => `${name} ${length}`);
  const assumed = stretches.filter(({ assumptions }) => assumptions.length > 0).length;
  const inside = assumed === 0 ? '' : `, in ${assumed} of them with indexes inside their tables`;
  const checked =
    stretches.length === 0 ? '' : `; exact cycles checked in ${count(stretches.length, 'place')}${inside}`;
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
