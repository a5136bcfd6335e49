import type { OwnParts } from '../own-program/own-desk.ts';
import type { OwnDraft, Taken } from '../own-program/own-draft.ts';

/** Version of the record. */
const VERSION = 1;

/** An own program as the browser keeps it. */
interface KeptOwn {
  readonly version: number;
  readonly draft: OwnDraft;
  readonly onBench: OwnDraft | null;
}

export const keptOwn = ({ draft, onBench }: OwnParts): KeptOwn => ({
  version: VERSION,
  draft,
  onBench: onBench ?? null,
});

/** Read what `keptOwn` made; undefined: nobody can read it. */
export function readKeptOwn(record: unknown): OwnParts | undefined {
  const { version, draft, onBench } = { ...(record as Partial<KeptOwn>) };
  if (version !== VERSION || !isDraft(draft)) return undefined;
  if (onBench === null) return { draft, onBench: undefined };
  return isDraft(onBench) ? { draft, onBench } : undefined;
}

function isDraft(data: unknown): data is OwnDraft {
  const { image, labels, scenario, scenarioName, takes } = { ...(data as Partial<OwnDraft>) };
  return (
    isTaken(image, (content) => content instanceof Uint8Array) &&
    isTaken(labels, (content) => typeof content === 'string') &&
    [scenario, scenarioName].every((text) => typeof text === 'string') &&
    typeof takes === 'number'
  );
}

function isTaken(data: unknown, isContent: (content: unknown) => boolean): boolean {
  if (data === undefined) return true;
  const { name, take, content } = { ...(data as Partial<Taken<unknown>>) };
  return typeof name === 'string' && typeof take === 'number' && isContent(content);
}

/** The text of a scenario with the name of its file, as it is kept while somebody types. */
export type KeptScenario = Pick<OwnDraft, 'scenario' | 'scenarioName'>;

export const keptScenarioText = ({ scenario, scenarioName }: KeptScenario): string =>
  JSON.stringify({ scenario, scenarioName });

/** Read what `keptScenarioText` wrote; undefined: nobody can read it. */
export function readKeptScenario(text: string): KeptScenario | undefined {
  try {
    const { scenario, scenarioName } = JSON.parse(text);
    return typeof scenario === 'string' && typeof scenarioName === 'string' ? { scenario, scenarioName } : undefined;
  } catch {
    return undefined;
  }
}
