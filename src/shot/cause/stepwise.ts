/** Work that hands over now and then, so that others can go on in the meantime. */
export type Stepwise<Answer> = Generator<void, Answer, void>;

/** Do it at one go. */
export function atOnce<Answer>(work: Stepwise<Answer>): Answer {
  for (;;) {
    const step = work.next();
    if (step.done === true) return step.value;
  }
}
