import { LatelightError } from '../errors/latelight-error.ts';
import { checkScenario } from '../shot/scenario.ts';
import { sentenceOf } from '../shot/sentence.ts';
import { prepareScenario, runShot } from '../shot/shot.ts';
import { ticksToMs } from '../units/timing.ts';
import type { Refusal, ShotAnswer, ShotRequest } from './shot.api.ts';

/** Run the first shot of the scenario with the asked panel and delay. Refusals come back as data. */
export function shootFirstLight(request: ShotRequest): ShotAnswer | Refusal {
  try {
    return shoot(request);
  } catch (error) {
    if (error instanceof LatelightError) return { refused: error.message, hint: error.hint };
    throw error;
  }
}

function shoot({ panel, delayMs, image, labels, scenario }: ShotRequest): ShotAnswer {
  const document = JSON.parse(scenario);
  document.lightPath.panel = { kind: panel };
  document.lightPath.stages = delayMs === 0 ? [] : [{ kind: 'pure-delay', delayMs }];
  const prepared = prepareScenario(checkScenario(document), { image, labels });
  const result = runShot(prepared, 0);
  const { trigger, deadline: _, ...instants } = result.ticks;
  return {
    judgement: result.judgement,
    sentence: sentenceOf(result, prepared.timing),
    instants: Object.fromEntries(
      Object.entries(instants).map(([name, tick]) => [
        name,
        tick === null ? null : ticksToMs(prepared.timing, tick - trigger),
      ]),
    ),
  };
}
