import { readFileSync } from 'node:fs';
import type { BenchState } from '../../src/ui/bench/bench-state.ts';
import type { PlayOutcome } from '../../src/workers/play.api.ts';
import type { LivePlay } from '../../src/workers/play-service.ts';
import { LAMPLIGHTER } from '../lamplighter.ts';

/** The shot that the bench asks of its worker for a state, played by the worker's own code. */
export function rehearsedShot(play: LivePlay, { strategy, lightPath, aim }: BenchState): PlayOutcome {
  const scenario = strategy === 'calibrated' ? 'calibrated-late-lcd' : 'tube';
  const answer = play.rehearse({
    image: new Uint8Array(readFileSync(`${LAMPLIGHTER}/${strategy}.bin`)),
    labels: readFileSync(`${LAMPLIGHTER}/${strategy}.lbl`, 'utf8'),
    scenario: readFileSync(`${LAMPLIGHTER}/${scenario}.json`, 'utf8'),
    lightPath,
    aim,
  });
  if ('refused' in answer) throw new Error(answer.refused);
  return answer.outcome;
}
