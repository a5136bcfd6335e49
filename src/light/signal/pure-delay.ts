import type { ModelSpec, Sourced } from '../../references/sourced.ts';
import { msToTicks } from '../../units/timing.ts';
import { checkParameters } from '../parameters.ts';
import { shiftStage } from './shift-stage.ts';
import type { SignalStageModel } from './signal-stage.ts';

const delay = (value: number, source: string): { delayMs: Sourced } => ({
  delayMs: { value, unit: 'ms', source, kind: 'assumed' },
});
const PRIOR =
  'assumed: median of our prior for the lag at the centre of the screen; no distribution over sets is published';

const spec: ModelSpec = {
  kind: 'pure-delay',
  title: 'pure delay',
  what: 'Hands every picture on unchanged, a constant time later; the time is rounded to whole master ticks.',
  parameters: [
    {
      name: 'delayMs',
      title: 'delay',
      unit: 'ms',
      min: 0,
      max: 500,
      standard: delay(32, `${PRIOR}; game modes of 2008 to 2016`).delayMs,
    },
  ],
  presets: [
    { id: 'line-buffered-monitor', title: 'monitor that keeps a few lines', values: delay(3, PRIOR) },
    { id: 'game-mode-lcd', title: 'LCD television, game mode', values: delay(14, `${PRIOR}; sets from 2018 on`) },
    {
      id: 'older-game-mode-lcd',
      title: 'older LCD television, game mode',
      values: delay(32, `${PRIOR}; 2008 to 2016`),
    },
    { id: 'late-lcd', title: 'LCD television, default picture mode', values: delay(75, PRIOR) },
  ],
};

/** A constant delay. `latencyTicks` shows the whole number of ticks that it came to. */
export const PURE_DELAY: SignalStageModel = {
  spec,
  create(values, { timing }) {
    checkParameters(spec, values);
    return shiftStage(msToTicks(timing, values['delayMs']!), false);
  },
};
