import { execFileSync, spawnSync } from 'node:child_process';
import { copyFileSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { inflateSync } from 'node:zlib';
import { afterAll, describe, expect, test } from 'vitest';
import { contactSheet } from '../../src/cli/contact-sheet.ts';
import { describeWith, findTool } from '../needs.ts';

const CLI = 'dist/cli/cli.js';
const TUBE = 'homebrew-demo/lamplighter/tube.json';
const out = mkdtempSync(join(tmpdir(), 'latelight-flash-'));
afterAll(() => rmSync(out, { recursive: true, force: true }));

const run = (...args: string[]) => spawnSync('node', [CLI, 'flash-check', ...args], { encoding: 'utf8' });

describe('flash-check', () => {
  test('tells scenes, the limit, editions and the caution, and passes for one shot', () => {
    const { stdout, status } = run('--seconds', '3', TUBE);
    expect(status).toBe(0);
    for (const part of [
      /below the limits of wcag-a \(.*WCAG 2\.2/,
      /scene 1, 0\.0\d to/,
      /no.* medical guarantee/,
      /seizure/,
    ])
      expect(stdout).toMatch(part);
  });

  test('--json has scenes and the times of the worst pictures, no pictures', () => {
    const { flashChecks } = JSON.parse(run('--seconds', '3', '--json', TUBE).stdout);
    const [verdict] = flashChecks[0].verdicts;
    expect(verdict.scenes.length).toBeGreaterThan(0);
    expect(verdict.worstSecond.picturesS.length).toBeGreaterThan(1);
    expect(JSON.stringify(flashChecks).length).toBeLessThan(20_000);
  });

  test('a shot that is not watched for a second is not passed in silence', () => {
    const short = run('--seconds', '1.2', TUBE);
    expect(short.status).toBe(3);
    expect(short.stdout).toMatch(/✕ Not judged: 1 shot or pull \(at 1\.50 s\)/);
    expect(JSON.parse(run('--seconds', '1.2', '--json', TUBE).stdout).flashChecks[0].played).toEqual({
      madeMs: [],
      notWatchedMs: [1500],
      heldMs: [],
      alternatives: 3,
    });
    // Made, but over before its flash is.
    expect(run('--seconds', '1.6', TUBE).status).toBe(3);
    expect(run('--seconds', '2.5', TUBE).status).toBe(0);
  });

  test('it says loudly that only what the scenario plays is judged', () => {
    expect(run('--seconds', '3', TUBE).stdout).toMatch(
      /! Judged is only what this scenario plays: .*1 shot or pull.*NOT judged/,
    );
  });

  test.each([
    [['--seconds', '-1'], /--seconds -1; expected a number from 0\.1 to 600/],
    [['--profile', 'wcag-a', '--profile', 'tv-1702'], /--profile more than once; expected --profile once/],
    [['--pixel-aspect', '3'], /--pixel-aspect 3; expected a number from 0\.5 to 2/],
    [['--seconds=-1'], /--seconds -1; expected a number from 0\.1 to 600/],
    [['--seconds'], /--seconds without a value; expected a value after --seconds/],
    [['--seconds', '--json'], /--seconds without a value/],
    [['--json=3'], /--json with a value; expected --json alone/],
  ] as const)('%j is refused in our words', (args, words) => {
    const { stderr, status } = run(TUBE, ...args);
    expect(status).toBe(2);
    expect(stderr).toMatch(words);
    expect(stderr).not.toMatch(/ambiguous|Did you forget|argument missing/);
  });

  test('a file for the pictures that cannot be written is refused in words', () => {
    const { stderr, status } = run('--pictures', join(out, 'no', 'such', 'folder.png'), '--seconds', '3', TUBE);
    expect([status, stderr.includes('cannot write')]).toEqual([1, true]);
  });

  test('nothing that was read is written over: neither the scenario nor its image', () => {
    for (const name of ['tube.json', 'same-frame-untested.bin', 'same-frame-untested.lbl'])
      copyFileSync(join('homebrew-demo/lamplighter', name), join(out, name));
    const own = join(out, 'tube.json');
    for (const name of ['tube.json', 'same-frame-untested.bin']) {
      const { stderr, status } = run('--pictures', join(out, name), '--seconds', '3', own);
      expect([status, /was read; expected another name/.test(stderr)]).toEqual([2, true]);
      expect(readFileSync(join(out, name))).toEqual(readFileSync(join('homebrew-demo/lamplighter', name)));
    }
  });

  // Source: a box of 48 x 48 dots is 23.8 % of the block at 3 pixels a line, 27.1 % where a dot is 8/7 as wide as high.
  test('the shape of a dot is in the report and in its numbers', () => {
    expect(run('--seconds', '3', TUBE).stdout).toMatch(/shown at 3 CSS pixels a line, dots square\n/);
    const { stdout } = run('--seconds', '3', '--pixel-aspect', '1.143', TUBE);
    expect(stdout).toMatch(/dots 1\.143 times as wide as high\n/);
    const { flashChecks } = JSON.parse(run('--seconds', '3', '--pixel-aspect', '1.143', '--json', TUBE).stdout);
    expect(flashChecks[0]).toMatchObject({ scale: 3, pixelAspect: 1.143 });
  });
});

test('a contact sheet keeps every dot: inflated by hand, 4 pictures in a row', () => {
  const pictures = [0x20, 0x0f, 0x16, 0x2a, 0x01].map((code) => new Uint16Array(256 * 240).fill(code));
  const png = contactSheet(pictures, false);
  const [width, height] = [png.readUInt32BE(16), png.readUInt32BE(20)];
  expect([width, height]).toEqual([4 * 264 + 8, 2 * 248 + 8]);
  const length = png.readUInt32BE(33);
  const lines = inflateSync(png.subarray(41, 41 + length));
  const dot = (x: number, y: number): number[] => [...lines.subarray(y * (1 + 3 * width) + 1 + 3 * x).subarray(0, 3)];
  expect(dot(2, 2)).toEqual([64, 64, 64]);
  expect(dot(100, 100)).not.toEqual(dot(364, 100));
  expect(dot(100, 348)).not.toEqual(dot(2, 2));
});

describeWith('ffmpeg', 'the sheet from the outside', () => {
  test('ffmpeg reads the pictures of the worst second', () => {
    const file = join(out, 'worst.png');
    expect(run('--pictures', file, '--seconds', '3', TUBE).status).toBe(0);
    const raw = join(out, 'worst.rgb');
    execFileSync(findTool('ffmpeg')!, ['-v', 'error', '-i', file, '-f', 'rawvideo', '-pix_fmt', 'rgb24', raw]);
    const png = readFileSync(file);
    // The picture before the first change stands before those that change something.
    const [verdict] = JSON.parse(run('--seconds', '3', '--json', TUBE).stdout).flashChecks[0].verdicts;
    const { beforeS, picturesS } = verdict.worstSecond;
    expect(beforeS).toBeLessThan(picturesS[0]);
    expect(png.readUInt32BE(16)).toBe((picturesS.length + 1) * 264 + 8);
    expect(readFileSync(raw).length).toBe(3 * png.readUInt32BE(16) * png.readUInt32BE(20));
  });
});
