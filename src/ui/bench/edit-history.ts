/** A document with what it was before and what was taken back. */
export interface EditHistory<Document> {
  readonly past: readonly Document[];
  readonly present: Document;
  readonly future: readonly Document[];
}

/** Steps that can be taken back. Our choice. */
const KEPT_STEPS = 500;

export const historyOf = <Document>(present: Document): EditHistory<Document> => ({ past: [], present, future: [] });

/** The document becomes `next`; what was taken back is gone. The very same document is no step. */
export function edited<Document>(history: EditHistory<Document>, next: Document): EditHistory<Document> {
  if (next === history.present) return history;
  return { past: [...history.past, history.present].slice(-KEPT_STEPS), present: next, future: [] };
}

/** One step back; the history itself if there is none. */
export function undone<Document>({ past, present, future }: EditHistory<Document>): EditHistory<Document> {
  const before = past.at(-1);
  if (before === undefined) return { past, present, future };
  return { past: past.slice(0, -1), present: before, future: [present, ...future] };
}

/** One step forth again; the history itself if none was taken back. */
export function redone<Document>({ past, present, future }: EditHistory<Document>): EditHistory<Document> {
  const [after, ...later] = future;
  if (after === undefined) return { past, present, future };
  return { past: [...past, present], present: after, future: later };
}
