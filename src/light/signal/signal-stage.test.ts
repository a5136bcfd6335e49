import { describe, expect, test } from 'vitest';
import { PictureHistory } from '../../picture/picture.ts';
import { TIMINGS, ticksPerFrame, ticksPerLine } from '../../units/timing.ts';
import { FRAME_BUFFER } from './frame-buffer.ts';
import { SignalChain } from './signal-chain.ts';
import { sourcePresentation } from './source.ts';

describe.each(Object.values(TIMINGS))('$name', (timing) => {
  const history = new PictureHistory(4);
  const picture = history.begin(12_345, []);

  test('a picture leaves the plug four dots after its raster position, line by line', () => {
    expect(sourcePresentation(picture, timing)).toEqual({
      index: 0,
      content: { kind: 'picture', picture: 0 },
      tTop: 12_345 + 4 * timing.dotDivider,
      tPerRow: ticksPerLine(timing),
      yFirst: 0,
      yLast: 239,
      isStored: false,
    });
  });

  test('a frame buffer shows the stored picture whole nominal frames later', () => {
    const stage = FRAME_BUFFER.create({ frames: 3 }, { timing });
    const source = sourcePresentation(picture, timing);
    expect(stage.present(source)).toEqual([
      { ...source, tTop: source.tTop + 3 * ticksPerFrame(timing), isStored: true },
    ]);
    expect(stage.latencyTicks).toEqual({ least: 3 * ticksPerFrame(timing), largest: 3 * ticksPerFrame(timing) });
  });

  test('the last dot of a picture is stored before its first row can be shown', () => {
    const lastDot = 239 * ticksPerLine(timing) + 255 * timing.dotDivider;
    expect(lastDot).toBeLessThan(ticksPerFrame(timing) - timing.dotDivider);
  });
});

describe('signal chain', () => {
  const timing = TIMINGS['60hz'];
  const stages = [
    { kind: 'pure-delay', delayMs: 10 },
    { kind: 'frame-buffer', frames: 1 },
    { kind: 'pure-delay', delayMs: 5 },
  ];

  test('stages add up; what was stored once stays stored', () => {
    const chain = new SignalChain(stages, timing);
    const history = new PictureHistory(8);
    chain.connect(history);
    history.begin(1000, []);
    chain.pull(history);
    expect(chain.largestLatencyTicks).toBe(214_773 + 357_368 + 107_386);
    expect(chain.at(0)).toMatchObject({ tTop: 1000 + 16 + chain.largestLatencyTicks, isStored: true });
    expect([chain.isStored, chain.isPureShift]).toEqual([true, true]);
    expect(chain.at(1)).toBeUndefined();
  });

  test('without stages the presentation is the source itself', () => {
    const chain = new SignalChain([], timing);
    const history = new PictureHistory(8);
    const picture = history.begin(77, []);
    chain.connect(history);
    chain.pull(history);
    expect(chain.at(0)).toEqual(sourcePresentation(picture, timing));
    expect([chain.isStored, chain.largestLatencyTicks]).toEqual([false, 0]);
  });

  test('a picture that is lost before it was taken is an INTERNAL error', () => {
    const chain = new SignalChain([], timing);
    const history = new PictureHistory(4);
    chain.connect(history);
    for (let n = 0; n < 5; n++) history.begin(n * 1000, []);
    expect(() => chain.pull(history)).toThrow(expect.objectContaining({ code: 'INTERNAL' }));
  });

  test('saves and loads', () => {
    const history = new PictureHistory(8);
    const [chain, loaded] = [new SignalChain(stages, timing), new SignalChain(stages, timing)];
    chain.connect(history);
    loaded.connect(history);
    for (let n = 0; n < 5; n++) history.begin(n * 1000, []);
    chain.pull(history);
    loaded.load(chain.save());
    expect(loaded.save()).toEqual(chain.save());
    history.begin(5000, []);
    chain.pull(history);
    loaded.pull(history);
    expect(loaded.at(5)).toEqual(chain.at(5));
    expect(loaded.at(0)).toEqual(chain.at(0));
  });
});
