import { expose, transfer } from 'comlink';
import type { PlayService } from './play.api.ts';
import { LivePlay } from './play-service.ts';

const play = new LivePlay();

const service: PlayService = {
  start: (request) => play.start(request),
  changeLightPath: (choice) => play.changeLightPath(choice),
  advance: (input) => {
    const frame = play.advance(input);
    if (!('shown' in frame)) return frame;
    const buffers = [frame.shown?.dots, frame.sent?.dots].flatMap((dots) => (dots == null ? [] : [dots.buffer]));
    return transfer(frame, buffers);
  },
};
expose(service);
