import type { CartridgeImage } from '../../program/image.ts';
import type { Scenario } from '../scenario.ts';
import type { Change } from './intervention.ts';
import type { Poke } from './world.ts';

type Json = Record<string, unknown>;

/** A copy of a scenario with the changes made that are the scenario's. */
export const changedScenario = (scenario: Scenario, changes: readonly Change[]): Scenario =>
  changedEntries(scenario, changes) as Scenario;

/** The same for any document that has the entries of a scenario that the changes name. */
export function changedEntries(document: object, changes: readonly Change[]): object {
  return changes.reduce<Json>(
    (changed, change) =>
      change.in === 'scenario' ? withEntry(changed, change.path.split('.'), change.value) : changed,
    document as Json,
  );
}

function withEntry(document: Json, [name, ...rest]: readonly string[], value: unknown): Json {
  if (Array.isArray(document)) {
    return document.map((item, i) =>
      i !== Number(name) ? item : rest.length === 0 ? value : withEntry(item as Json, rest, value),
    ) as unknown as Json;
  }
  if (rest.length > 0) return { ...document, [name!]: withEntry(document[name!] as Json, rest, value) };
  if (value !== undefined) return { ...document, [name!]: value };
  const { [name!]: _, ...others } = document;
  return others;
}

/** A copy of an image with the changes made that are the image's. */
export const changedImage = (image: CartridgeImage, changes: readonly Change[]): CartridgeImage =>
  patchedImage(
    image,
    changes.filter((change) => change.in === 'image'),
  );

/** Where the processor sees the image. */
const PROGRAM_START = 0x8000;

/** An image with other bytes at some addresses of the processor; the image itself if none of them is in it. */
export function patchedImage(image: CartridgeImage, pokes: readonly Poke[]): CartridgeImage {
  const inProgram = pokes.filter(({ address }) => address >= PROGRAM_START);
  if (inProgram.length === 0) return image;
  // The `slice` of a file's buffer, as Node reads it, is no copy.
  const program = new Uint8Array(image.program);
  for (const { address, value } of inProgram) program[address % program.length] = value;
  return { ...image, program };
}
