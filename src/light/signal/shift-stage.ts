import type { Presentation, SignalStage } from './signal-stage.ts';

/** A stage that moves every presentation by the same number of ticks and keeps nothing. */
export function shiftStage(shiftTicks: number, isStoring: boolean): SignalStage {
  const storesPicture = (isInputStored: boolean) => isStoring || isInputStored;
  return {
    latencyTicks: { least: shiftTicks, largest: shiftTicks },
    conservesFrames: true,
    isPureShift: true,
    storesPicture,
    present: (input: Presentation) => [
      { ...input, tTop: input.tTop + shiftTicks, isStored: storesPicture(input.isStored) },
    ],
    save: () => [],
    load: () => {},
  };
}
