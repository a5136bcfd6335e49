import { execFileSync } from 'node:child_process';
import { expect, test } from 'vitest';
import { FlashAnalyser } from '../../src/safety/flash-analyser.ts';
import { linearOf } from '../../src/safety/flash-colour.ts';
import { FLASH_PROFILES } from '../../src/safety/flash-profile.ts';
import { describeWith, findTool } from '../needs.ts';

const WCAG_A = FLASH_PROFILES.find(({ id }) => id === 'wcag-a')!;
const FRAMES = 180;
const [WIDTH, HEIGHT] = [256, 240];
/** Frames that the outside filter needs before its figure means anything. */
const WARM_UP = 61;

/** Grey levels 0..255, one a frame, at 60 frames a second. */
interface Clip {
  readonly name: string;
  readonly greyAt: (frame: number) => number;
}

const blink =
  (period: number, low: number, high: number) =>
  (frame: number): number =>
    Math.floor(frame / period) % 2 === 0 ? low : high;
/** A black and a white frame over grey 137, every `spacing` frames. */
const shotsEvery = (spacing: number) => (frame: number) => [0, 255][(frame - 70) % spacing] ?? 137;

/** From the mildest on. */
const CLIPS: readonly Clip[] = [
  { name: 'steady grey', greyAt: () => 128 },
  { name: 'one shot', greyAt: (frame) => [0, 255][frame - 120] ?? 137 },
  { name: 'white and black, 15 frames each', greyAt: blink(15, 0, 255) },
  { name: 'white and black, 10 frames each', greyAt: blink(10, 0, 255) },
  { name: 'a shot every 20 frames', greyAt: shotsEvery(20) },
  { name: 'white and black, 3 frames each', greyAt: blink(3, 0, 255) },
  { name: 'white and black at every frame', greyAt: blink(1, 0, 255) },
];

function countOf({ greyAt }: Clip): number {
  const analyser = new FlashAnalyser({ profile: WCAG_A, size: { scale: 4, pixelAspect: 1 } });
  for (let frame = 0; frame < FRAMES; frame++)
    analyser.push(new Float64Array(32 * 30 * 3).fill(linearOf(greyAt(frame))), frame / 60);
  return analyser.worstChanges;
}

/** Largest `badness` that the photosensitivity filter of ffmpeg reports, its warm-up left out. */
function badnessOf({ greyAt }: Clip): number {
  const video = Buffer.alloc(WIDTH * HEIGHT * FRAMES);
  for (let frame = 0; frame < FRAMES; frame++)
    video.fill(greyAt(frame), frame * WIDTH * HEIGHT, (frame + 1) * WIDTH * HEIGHT);
  const filter = 'format=rgb24,photosensitivity=frames=60:bypass=1,metadata=mode=print:file=-';
  const input = ['-f', 'rawvideo', '-pix_fmt', 'gray', '-s', `${WIDTH}x${HEIGHT}`, '-r', '60', '-i', '-'];
  const output = execFileSync(findTool('ffmpeg')!, ['-v', 'error', ...input, '-vf', filter, '-f', 'null', '-'], {
    input: video,
    encoding: 'utf8',
    maxBuffer: 1e8,
  });
  const values = [...output.matchAll(/photosensitivity\.badness=([\d.]+)/g)].map(([, value]) => Number(value));
  return Math.max(...values.slice(WARM_UP));
}

describeWith('ffmpeg', 'against the photosensitivity filter of ffmpeg (Debian)', () => {
  // The filter has no threshold of three flashes, no area and no red: only the order of whole-picture clips can agree.
  test('clips of the whole picture come in the same order', () => {
    const found = CLIPS.map((clip) => ({ name: clip.name, count: countOf(clip), badness: badnessOf(clip) }));
    const order = (key: 'count' | 'badness') => [...found].sort((a, b) => a[key] - b[key]).map(({ name }) => name);
    expect(order('count')).toEqual(CLIPS.map(({ name }) => name));
    expect(found.map(({ badness }) => badness)).toEqual(found.map(({ badness }) => badness).sort((a, b) => a - b));
  });

  test('where they disagree by design: greys less than a tenth apart count nothing here', () => {
    const clip = { name: 'grey 0 and 88, 3 frames each', greyAt: blink(3, 0, 88) };
    expect(countOf(clip)).toBe(0);
    expect(badnessOf(clip)).toBeGreaterThan(badnessOf(CLIPS[2]!));
  });
});
