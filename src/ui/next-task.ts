/** Lets what waits be drawn and answered first. */
export const nextTask = (): Promise<void> => new Promise((done) => setTimeout(done));
