/// <reference lib="webworker" />
import { assembleProgram } from '../../src/program/assembler/assembler.ts';

/** A source and its files as texts; the answer is the whole result. */
interface Request {
  readonly main: string;
  readonly texts: Readonly<Record<string, string>>;
}

addEventListener('message', ({ data }: MessageEvent<Request>) => {
  const files = { readText: (path: string) => data.texts[path], readBytes: () => undefined };
  postMessage(assembleProgram(data.main, files));
});
