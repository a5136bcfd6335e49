import type { Stepwise } from '../shot/cause/stepwise.ts';

/** Most causes are found within so long, ms: done at one go they come soonest. Our choice: play stands for six frames. */
const FIRST_SLICE_MS = 100;
/** What takes longer is done in slices of so long, ms, between which messages are answered. Our choice: half a frame. */
const SLICE_MS = 8;

/**
 * Work through steps and answer other messages between them where it takes long, so that play goes on. Ends early with null
 * when the answer is not wanted any more.
 */
export async function betweenMessages<Answer>(
  steps: Stepwise<Answer>,
  isWanted: () => boolean,
): Promise<Answer | null> {
  let until = performance.now() + FIRST_SLICE_MS;
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
    if (performance.now() < until) continue;
    await messagesAnswered();
    if (!isWanted()) return null;
    until = performance.now() + SLICE_MS;
  }
}

/** Comes behind all messages that wait now. A timer would wait for 4 ms each time. */
function messagesAnswered(): Promise<void> {
  const { port1, port2 } = new MessageChannel();
  return new Promise((resolve) => {
    port1.onmessage = () => {
      port1.close();
      resolve();
    };
    port2.postMessage(null);
  });
}
