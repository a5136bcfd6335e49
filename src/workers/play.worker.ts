import { expose, transfer } from 'comlink';
import type { PlayService } from './play.api.ts';
import { LivePlay } from './play-service.ts';

const play = new LivePlay();

const service: PlayService = {
  start: (request) => play.start(request),
  changeLightPath: (choice) => play.changeLightPath(choice),
  advance: (input) => {
    const frame = play.advance(input);
    return 'picture' in frame && frame.picture !== null ? transfer(frame, [frame.picture.buffer]) : frame;
  },
};
expose(service);
