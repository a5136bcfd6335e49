import { transfer } from 'comlink';
import type { DrawnPicture, PlayService } from './play.api.ts';
import { LivePlay } from './play-service.ts';
import type { Refusal } from './refusal.ts';

const play = new LivePlay();

/** Pictures go to the page without being copied. */
function handedOver<Answer extends { readonly shown: DrawnPicture | null; readonly sent: DrawnPicture | null }>(
  answer: Answer | Refusal,
): Answer | Refusal {
  if (!('shown' in answer)) return answer;
  const buffers = [answer.shown?.dots, answer.sent?.dots].flatMap((dots) => (dots == null ? [] : [dots.buffer]));
  return transfer(answer, buffers);
}

export const service: PlayService = {
  start: (request) => play.start(request),
  changeLightPath: (lightPath) => play.changeLightPath(lightPath),
  advance: (input) => handedOver(play.advance(input)),
  firstLive: (request) => play.firstLive(request),
  rehearse: (request) => play.rehearse(request),
  detail: (fromMs, toMs, columns, replay) => play.detail(fromMs, toMs, columns, replay),
  keep: (replay) => play.keep(replay),
  still: (ms, timeMs) => handedOver(play.still(ms, timeMs)),
  explain: () => play.explain(),
};
