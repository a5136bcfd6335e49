import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { type AssemblyResult, assembleProgram, type SourceFiles } from '../../src/program/assembler/assembler.ts';

/** What ca65 and ld65 make of a source. */
export interface OutsideResult {
  /** null when one of them refuses it; a warning of ld65 counts as a refusal, as in homebrew-demo/build.sh. */
  readonly image: Uint8Array | null;
  readonly messages: string;
}

const MAP = resolve('homebrew-demo/nrom.cfg');

/** Two processes at a time; every source has a number. */
const LOOP = `xargs -P 2 -n 50 sh -c 'for i do
  if ca65 -g -o $i.o $i.s 2>$i.err >>$i.err; then ld65 -C "${MAP}" -o $i.bin $i.o 2>$i.warn >>$i.warn || rm -f $i.bin; fi
done' -`;

/** Assemble many sources with ca65 and ld65 and the memory map of the demo programs. */
export function assembleOutside(sources: readonly string[]): OutsideResult[] {
  const folder = mkdtempSync(join(tmpdir(), 'latelight-assembler-'));
  try {
    sources.forEach((source, i) => {
      writeFileSync(join(folder, `${i}.s`), source);
    });
    execFileSync('sh', ['-c', LOOP], { cwd: folder, input: sources.map((_, i) => i).join('\n') });
    return sources.map((_, i) => resultOf(join(folder, `${i}`)));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function resultOf(path: string): OutsideResult {
  const text = (name: string): string => (existsSync(name) ? readFileSync(name, 'utf8') : '');
  const warnings = text(`${path}.warn`);
  const isMade = existsSync(`${path}.bin`) && warnings === '';
  return { image: isMade ? readFileSync(`${path}.bin`) : null, messages: text(`${path}.err`) + warnings };
}

/** Files in memory. */
export function filesOf(texts: Readonly<Record<string, string | Uint8Array>>): SourceFiles {
  const find = (path: string): string | Uint8Array | undefined =>
    Object.hasOwn(texts, path) ? texts[path] : undefined;
  return {
    readText: (path) => {
      const found = find(path);
      return typeof found === 'string' ? found : undefined;
    },
    readBytes: (path) => {
      const found = find(path);
      return typeof found === 'string' ? new TextEncoder().encode(found) : found;
    },
  };
}

/** Assemble one source with our assembler. */
export const assembleText = (source: string): AssemblyResult =>
  assembleProgram('main.s', filesOf({ 'main.s': source }));

/** Two images as text, with the first place where they differ. */
export function difference(outside: Uint8Array, inside: Uint8Array): string {
  const at = outside.findIndex((byte, i) => byte !== inside[i]);
  if (at < 0) return outside.length === inside.length ? '' : `lengths ${outside.length} and ${inside.length}`;
  const shown = (bytes: Uint8Array): string => Buffer.from(bytes.subarray(at, at + 8)).toString('hex');
  return `offset ${at}: ${shown(outside)} and ${shown(inside)}`;
}
