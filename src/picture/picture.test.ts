import { describe, expect, test } from 'vitest';
import { ALL_LINES, checkDrawn, PictureHistory } from './picture.ts';

describe('lines drawn of a picture', () => {
  test('all of them, unless the raster says otherwise when it begins the picture', () => {
    const history = new PictureHistory(2);
    expect(history.begin(0, []).drawn).toEqual(ALL_LINES);
    expect(history.begin(1, [], { firstLine: 8, lastLine: 31 }).drawn).toEqual({ firstLine: 8, lastLine: 31 });
    expect(history.begin(2, []).drawn).toEqual(ALL_LINES);
  });

  test.each([
    [
      { firstLine: 8, lastLine: 31 },
      { firstLine: 8, lastLine: 31 },
    ],
    [
      { firstLine: 8, lastLine: 31 },
      { firstLine: 20, lastLine: 20 },
    ],
    [ALL_LINES, ALL_LINES],
    // Nothing is read.
    [
      { firstLine: 0, lastLine: -1 },
      { firstLine: 5, lastLine: 4 },
    ],
  ])('of %o drawn, %o may be read', (drawn, read) => {
    expect(() => checkDrawn(new PictureHistory(1).begin(0, [], drawn), read)).not.toThrow();
  });

  test.each([
    [
      { firstLine: 8, lastLine: 31 },
      { firstLine: 7, lastLine: 31 },
    ],
    [
      { firstLine: 8, lastLine: 31 },
      { firstLine: 31, lastLine: 32 },
    ],
    [
      { firstLine: 0, lastLine: -1 },
      { firstLine: 0, lastLine: 0 },
    ],
  ])('of %o drawn, to read %o is an internal error, never black', (drawn, read) => {
    const what = `lines ${read.firstLine}..${read.lastLine} of picture 0 are read, but ${drawn.firstLine}..${drawn.lastLine} drawn`;
    expect(() => checkDrawn(new PictureHistory(1).begin(0, [], drawn), read)).toThrow(
      expect.objectContaining({ code: 'INTERNAL', details: { what } }),
    );
  });
});
