import { LatelightError } from '../../errors/latelight-error.ts';

/** What a file is to the page. */
export type OwnFileKind = 'image' | 'labels' | 'scenario' | 'bench';

const SIGNATURE = [0x4e, 0x45, 0x53, 0x1a];
const SHOWN_BYTES = 8;
/** Enough to tell a label file; some begin with lines that their reader will complain of. */
const HEAD = 4096;

const ENDINGS: readonly (readonly [RegExp, OwnFileKind])[] = [
  [/\.(nes|bin)$/i, 'image'],
  [/\.(lbl|labels|dbg)$/i, 'labels'],
  [/\.json$/i, 'scenario'],
];

/**
 * What a file is: by its content, or by the end of its name where the content is not what it should be, so that its reader
 * says what is wrong with it. Errors: FILE_UNKNOWN, FILE_IS_PLAN.
 */
export function kindOf(name: string, bytes: Uint8Array): OwnFileKind {
  if (bytes.length === 0 || isOtherJson(bytes))
    throw new LatelightError('FILE_UNKNOWN', { name, found: beginningOf(bytes) });
  const kind = kindByContent(name, bytes) ?? ENDINGS.find(([ending]) => ending.test(name))?.[1];
  if (kind === undefined) throw new LatelightError('FILE_UNKNOWN', { name, found: beginningOf(bytes) });
  return kind;
}

function kindByContent(name: string, bytes: Uint8Array): OwnFileKind | undefined {
  if (SIGNATURE.every((byte, at) => bytes[at] === byte)) return 'image';
  const head = new TextDecoder().decode(bytes.subarray(0, HEAD));
  if (/^version\t/.test(head) || /^al [0-9A-Fa-f]{6,16} \.\S/m.test(head)) return 'labels';
  return head.trimStart().startsWith('{') ? kindOfJson(name, new TextDecoder().decode(bytes)) : undefined;
}

/** A list, a number or a text, where a scenario is an object. */
function isOtherJson(bytes: Uint8Array): boolean {
  try {
    const document: unknown = JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
    return typeof document !== 'object' || document === null || Array.isArray(document);
  } catch {
    return false;
  }
}

/** A scenario unless it says that it is something else. */
function kindOfJson(name: string, json: string): OwnFileKind {
  const document = objectOf(json);
  if ('sweep' in document) throw new LatelightError('FILE_IS_PLAN', { name });
  return 'bench' in document ? 'bench' : 'scenario';
}

/** The object of a JSON text; empty if it is none. */
export function objectOf(json: string): Readonly<Record<string, unknown>> {
  try {
    const document: unknown = JSON.parse(json);
    return typeof document === 'object' && document !== null && !Array.isArray(document) ? { ...document } : {};
  } catch {
    return {};
  }
}

function beginningOf(bytes: Uint8Array): string {
  if (bytes.length === 0) return 'nothing, for it is empty';
  return Array.from(bytes.subarray(0, SHOWN_BYTES), (byte) => byte.toString(16).toUpperCase().padStart(2, '0')).join(
    ' ',
  );
}
