import { tryBrightBand, tryWindow, WINDOW_PATHS } from './other-strategies.ts';

console.log(
  JSON.stringify({
    windows: WINDOW_PATHS.flatMap((path) =>
      [0, 1, 2].flatMap((lamp) => [
        tryWindow('fixed-delay', path, lamp, 120),
        tryWindow('same-frame-tested', path, lamp, 60),
        tryWindow('same-frame-untested', path, lamp, 60),
      ]),
    ),
    bands: [3, 8, 12].map(tryBrightBand),
  }),
);
