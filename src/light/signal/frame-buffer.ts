import type { ModelSpec, Sourced } from '../../references/sourced.ts';
import { ticksPerFrame } from '../../units/timing.ts';
import { checkParameters } from '../parameters.ts';
import { shiftStage } from './shift-stage.ts';
import type { SignalStageModel } from './signal-stage.ts';

const frames = (value: number, source: string): { frames: Sourced } => ({
  frames: { value, unit: 'frames', source, kind: 'common practice' },
});

const spec: ModelSpec = {
  kind: 'frame-buffer',
  title: 'frame buffer',
  what: 'Stores the whole picture and shows it whole frames later, locked to the input.',
  parameters: [
    {
      name: 'frames',
      title: 'frames',
      unit: 'frames',
      min: 1,
      max: 8,
      isInteger: true,
      standard: frames(1, 'common practice: one buffer in the scaler').frames,
    },
  ],
  presets: [
    { id: 'game-mode-lcd', title: 'scaler alone', values: frames(1, 'common practice: one buffer in the scaler') },
    {
      id: 'late-lcd',
      title: 'deinterlacer and frame-rate conversion',
      values: frames(4, 'common practice: deinterlacer 1 to 3 fields, scaler 1 frame, conversion 2 frames'),
    },
  ],
};

/**
 * A frame buffer locked to the input: tTop moves by `frames` times the nominal frame (the one without a skipped dot).
 *
 * The last dot of a picture has come (240 of 262 or 312 lines) before its first stored row can be shown, so what
 * leaves is stored and a panel may scan it at any speed.
 */
export const FRAME_BUFFER: SignalStageModel = {
  spec,
  create(values, { timing }) {
    checkParameters(spec, values);
    return shiftStage(values['frames']! * ticksPerFrame(timing), true);
  },
};
