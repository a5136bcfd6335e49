import type { LightPath } from '../light/light-path.ts';
import type { SpotWeights } from '../light/optics/optics.ts';
import { SignalChain } from '../light/signal/signal-chain.ts';
import type { Presentation } from '../light/signal/signal-stage.ts';
import type { Picture, PictureHistory } from '../picture/picture.ts';
import { weightedLight } from '../references/palette.ts';
import { PICTURE_WIDTH, type Timing, ticksToMs } from '../units/timing.ts';
import type { LightPathSettings } from './light-path-settings.ts';

/**
 * What stands on the wire at the spot, behind the console's plug and behind each stage, from `fromMs` to `toMs` after the
 * trigger: light of white = 1, by column of equal width, the largest of the column. Shape: `[stage + 1][column]`, index 0
 * is the plug.
 */
export interface WireTraces {
  readonly fromMs: number;
  readonly toMs: number;
  readonly traces: readonly Float32Array[];
}

export interface WireTracesOptions {
  readonly settings: LightPathSettings;
  readonly timing: Timing;
  readonly history: PictureHistory;
  /** The path that the shot went: its spot and its sensor's colours. */
  readonly light: LightPath;
  readonly triggerTick: number;
  readonly toTick: number;
}

const COLUMNS = 240;

/** The signal of the spot's dots, as a small drawing of what every stage does to it. Pictures no longer kept are dark. */
export function wireTraces(options: WireTracesOptions): WireTraces {
  const { settings, timing, history, light, triggerTick, toTick } = options;
  const spot = light.spotAt(light.aim);
  const lightOfCode = weightedLight(timing.swapsRedGreenEmphasis, light.spectralWeights);
  const level = new Map<number, number>();
  const levelOf = (picture: number): number => {
    let known = level.get(picture);
    if (known === undefined) {
      known = spotLight(history.get(picture), spot, lightOfCode);
      level.set(picture, known);
    }
    return known;
  };
  const traces = Array.from({ length: settings.stages.length + 1 }, (_, count) => {
    const chain = new SignalChain(settings.stages.slice(0, count), timing);
    chain.connect(history);
    chain.pull(history);
    const trace = new Float32Array(COLUMNS);
    for (let at = chain.oldest; at < chain.presented; at++) {
      const presentation = chain.at(at)!;
      addPulse(
        trace,
        { fromTick: triggerTick, toTick },
        pulseOf(presentation, spot),
        levelOf(presentation.content.picture),
      );
    }
    return trace;
  });
  return { fromMs: 0, toMs: ticksToMs(timing, toTick - triggerTick), traces };
}

/** When the rows of the spot pass. */
function pulseOf({ tTop, tPerRow }: Presentation, { firstRow, rowCount }: SpotWeights): readonly [number, number] {
  return [tTop + firstRow * tPerRow, tTop + (firstRow + rowCount) * tPerRow];
}

function addPulse(
  trace: Float32Array,
  { fromTick, toTick }: { readonly fromTick: number; readonly toTick: number },
  [begin, end]: readonly [number, number],
  level: number,
): void {
  const columnOf = (tick: number): number => Math.floor(((tick - fromTick) / (toTick - fromTick)) * trace.length);
  const last = Math.min(trace.length - 1, columnOf(end));
  for (let column = Math.max(0, columnOf(begin)); column <= last; column++)
    trace[column] = Math.max(trace[column]!, level);
}

function spotLight(picture: Picture | undefined, spot: SpotWeights, lightOfCode: Float64Array): number {
  if (picture === undefined) return 0;
  const { firstRow, rowCount, firstDot, dotCount, weight } = spot;
  let sum = 0;
  for (let row = 0; row < rowCount; row++) {
    for (let dot = 0; dot < dotCount; dot++) {
      const code = picture.codes[(firstRow + row) * PICTURE_WIDTH + firstDot + dot]!;
      sum += weight[row * dotCount + dot]! * lightOfCode[code]!;
    }
  }
  return sum;
}
