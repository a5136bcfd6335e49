import { FRAME_BUFFER } from './frame-buffer.ts';
import { PURE_DELAY } from './pure-delay.ts';
import type { SignalStageModel } from './signal-stage.ts';

/** Every signal stage: one line each. */
export const SIGNAL_STAGES: readonly SignalStageModel[] = [PURE_DELAY, FRAME_BUFFER];
