import { expect, test } from 'vitest';
import imageUrl from '../../homebrew-demo/first-light/first-light.bin?url';
import labels from '../../homebrew-demo/first-light/first-light.lbl?raw';
import source from '../../homebrew-demo/first-light/first-light.s?raw';
import { type AssemblyResult, assembleProgram } from '../../src/program/assembler/assembler.ts';
import { labelFileText } from '../../src/program/program-symbols.ts';
import AssembleWorker from './assemble.worker.ts?worker';

const MAIN = 'first-light.s';

/** Assemble in a worker: its answer is a structured clone of the result. */
function inWorker(texts: Readonly<Record<string, string>>): Promise<AssemblyResult> {
  const worker = new AssembleWorker();
  return new Promise<AssemblyResult>((resolve, reject) => {
    worker.onmessage = ({ data }) => resolve(data);
    worker.onerror = reject;
    worker.postMessage({ main: MAIN, texts });
  }).finally(() => worker.terminate());
}

test('a web worker makes the image and the labels that Node and ld65 make of First Light', async () => {
  const expected = new Uint8Array(await (await fetch(imageUrl)).arrayBuffer());
  const { image, symbols, errors } = await inWorker({ [MAIN]: source });
  expect(errors).toEqual([]);
  expect(image).toEqual(expected);
  expect(labelFileText(symbols)).toBe(labels);
});

test('the result of a worker is that of the page: listing, map, stretches and messages are plain data', async () => {
  const texts = { [MAIN]: `${source}\n; exactly 2 cycles from here\n nop\n ; to here\n lda z:later\nlater = 5` };
  const files = { readText: (path: string) => texts[path as typeof MAIN], readBytes: () => undefined };
  expect(await inWorker(texts)).toEqual(assembleProgram(MAIN, files));
});

test('errors come back with their places', async () => {
  const { image, errors } = await inWorker({ [MAIN]: ' ldaa #1\n' });
  expect(image).toBeNull();
  expect(errors[0]).toMatchObject({ code: 'ASM_UNKNOWN_INSTRUCTION', line: 1, column: 2, span: 4 });
});
