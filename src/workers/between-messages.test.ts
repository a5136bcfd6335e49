import { expect, test } from 'vitest';
import { betweenMessages } from './between-messages.ts';

/** Steps that take so long each, ms. */
function* work(steps: number, ms: number): Generator<void, string, void> {
  for (let i = 0; i < steps; i++) {
    const until = performance.now() + ms;
    while (performance.now() < until);
    yield;
  }
  return 'done';
}

/** Counts how often a message got its turn. */
function messages(): { count: number; readonly stop: () => void } {
  const { port1, port2 } = new MessageChannel();
  const told = { count: 0, stop: () => port1.close() };
  port1.onmessage = () => {
    told.count++;
    port2.postMessage(null);
  };
  port2.postMessage(null);
  return told;
}

test('long work lets messages in, and says what it came to', async () => {
  const others = messages();
  const answer = await betweenMessages(work(30, 5), () => true);
  others.stop();
  expect(answer).toBe('done');
  expect(others.count).toBeGreaterThanOrEqual(3);
});

test('short work is done at one go', async () => {
  let asked = 0;
  expect(await betweenMessages(work(3, 0), () => ++asked > 0)).toBe('done');
  expect(asked).toBe(0);
});

test('what is not wanted any more ends', async () => {
  let asked = 0;
  expect(await betweenMessages(work(100, 5), () => ++asked < 3)).toBe(null);
  expect(asked).toBe(3);
});

test('an error comes out', async () => {
  // biome-ignore lint/correctness/useYield: it fails before it hands over
  function* failing(): Generator<void, never, void> {
    throw new Error('no light');
  }
  await expect(betweenMessages(failing(), () => true)).rejects.toThrow('no light');
});
