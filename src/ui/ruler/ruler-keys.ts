/** What a key does to the ruler. */
export type RulerCommand =
  | 'zoom in'
  | 'zoom out'
  | 'show all'
  | 'later'
  | 'earlier'
  | 'begin'
  | 'end'
  | 'hold'
  | 'next scanline'
  | 'next frame'
  | 'back to the shot'
  | 'measure'
  | 'escape';

/** By the name of the key, letters in lower case. */
export const RULER_KEYS: Readonly<Record<string, RulerCommand>> = {
  '+': 'zoom in',
  '=': 'zoom in',
  '-': 'zoom out',
  '0': 'show all',
  ArrowRight: 'later',
  ArrowUp: 'later',
  ArrowLeft: 'earlier',
  ArrowDown: 'earlier',
  Home: 'begin',
  End: 'end',
  h: 'hold',
  '.': 'next scanline',
  f: 'next frame',
  b: 'back to the shot',
  m: 'measure',
  Escape: 'escape',
};
