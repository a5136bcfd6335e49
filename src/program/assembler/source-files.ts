/** Where source text and binary data come from. A path uses "/"; undefined when there is no such file. */
export interface SourceFiles {
  readText(path: string): string | undefined;
  readBytes(path: string): Uint8Array | undefined;
}

/** One line of a source file; `line` counts from 1. */
export interface SourceLine {
  readonly file: string;
  readonly line: number;
  readonly text: string;
}

/** A line as it is assembled: the line itself, and the statement that led to it. */
export interface Origin {
  readonly source: SourceLine;
  /** The line that included this file, called this macro or repeats this line; null in the main file. */
  readonly caller: Origin | null;
  /** How the caller led here. */
  readonly via: 'main' | 'include' | 'macro' | 'repeat';
  /** Place in the order of assembly, from 0. */
  readonly order: number;
}

/** Files that surround a line, innermost first: its own file, then those that include it. */
function filesAround(origin: Origin): string[] {
  const files = [origin.source.file];
  for (let at = origin.caller; at !== null; at = at.caller) {
    if (!files.includes(at.source.file)) files.push(at.source.file);
  }
  return files;
}

/**
 * Paths at which a named file may lie, in the order in which they are tried: beside the file that names it, beside the
 * files that include that one, and as it is written.
 */
export function candidatePaths(named: string, origin: Origin): string[] {
  const paths = named.startsWith('/') ? [] : filesAround(origin).map((file) => joinPath(folderOf(file), named));
  return [...new Set([...paths, joinPath('', named)])];
}

/** Paths of binary data: as it is written comes first (as in ca65). */
export function dataPaths(named: string, origin: Origin): string[] {
  return [...new Set([joinPath('', named), ...candidatePaths(named, origin)])];
}

const folderOf = (path: string): string => path.slice(0, path.lastIndexOf('/') + 1);

/** Folder and name as one path, without "." and with ".." taken out where a folder stands before it. */
function joinPath(folder: string, name: string): string {
  const parts: string[] = [];
  for (const part of `${folder}${name}`.split('/')) {
    const last = parts[parts.length - 1];
    if (part === '.') continue;
    if (part === '..' && last !== undefined && last !== '..' && last !== '') parts.pop();
    else parts.push(part);
  }
  return parts.join('/');
}
