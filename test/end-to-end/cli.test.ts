import { spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';

const CLI = 'dist/cli/cli.js';
const FOLDER = 'homebrew-demo/first-light';
const work = mkdtempSync(join(tmpdir(), 'latelight-cli-'));
cpSync(FOLDER, work, { recursive: true });
afterAll(() => rmSync(work, { recursive: true, force: true }));

function run(...args: string[]): { status: number | null; out: string; err: string } {
  const { status, stdout, stderr } = spawnSync('node', [CLI, ...args], { encoding: 'utf8' });
  return { status, out: stdout, err: stderr };
}

// biome-ignore lint/suspicious/noExplicitAny: the tests write whatever they like into the document
type Document = any;

/** A scenario file with some entries of tube.json changed, and the image replaced where given. */
function scenarioWith(change: (document: Document) => void, image?: Uint8Array): string {
  const document = JSON.parse(readFileSync(`${FOLDER}/tube.json`, 'utf8'));
  if (image !== undefined) {
    document.image = 'changed.bin';
    writeFileSync(join(work, 'changed.bin'), image);
  }
  change(document);
  const path = join(work, 'changed.json');
  writeFileSync(path, JSON.stringify(document));
  return path;
}

function fileWith(text: string): string {
  const path = join(work, 'text.json');
  writeFileSync(path, text);
  return path;
}

const image = (): Uint8Array => new Uint8Array(readFileSync(`${FOLDER}/first-light.bin`));

describe('the main job', () => {
  test('a hit on the tube and a miss on an LCD 50 ms late, with the crossing time', () => {
    const { status, out, err } = run('shoot', `${FOLDER}/tube.json`, `${FOLDER}/late-lcd.json`);
    expect(err).toBe('');
    expect(status).toBe(0);
    expect(out).toMatch(
      /First Light on a tube[\s\S]*HIT[\s\S]*First Light on an LCD[\s\S]*MISS[\s\S]*threshold crossed +\+10\d\.\d{3} ms/,
    );
    expect(out).toMatch(
      /crossed the threshold 5\d\.\d ms after its line left the console; the program's last read was \d+\.\d ms after: \d+\.\d ms too early\./,
    );
    expect(out.split('\n').every((line) => line.length < 200)).toBe(true);
  });

  test('the README shows the output of this version', () => {
    const { out } = run('shoot', `${FOLDER}/tube.json`, `${FOLDER}/late-lcd.json`);
    expect(readFileSync('README.md', 'utf8')).toContain(out.trimEnd());
  });

  test('--json gives the same facts as data', () => {
    const { status, out } = run('shoot', '--json', `${FOLDER}/late-lcd.json`);
    const [scenario] = JSON.parse(out).scenarios;
    const [shot] = scenario.shots;
    expect(status).toBe(0);
    expect(shot.judgement).toBe('miss');
    expect(shot.ticks.crossing).toBeGreaterThan(shot.ticks.lastRead);
    expect(shot.msAfterTrigger.crossing - shot.msAfterTrigger.flashOnWire).toBeGreaterThan(50);
  });

  test('--require-right tells a right shot from a wrong one by its exit status', () => {
    expect(run('shoot', '--require-right', `${FOLDER}/tube.json`).status).toBe(0);
    expect(run('shoot', '--require-right', `${FOLDER}/late-lcd.json`).status).toBe(3);
  });

  test('--help teaches, and help scenario lists every model with ranges and sources', () => {
    expect(run('--help').out).toMatch(/latelight shoot SCENARIO[\s\S]*Exit status/);
    const { out } = run('help', 'scenario');
    for (const word of [
      'pure-delay',
      'frame-buffer',
      'beam-tube',
      'lcd',
      'constant-light',
      'gaussian-spot',
      'wide-band',
      'delayMs',
    ]) {
      expect(out).toContain(word);
    }
  });
});

describe('what is refused: exit status, and a message with what was found, expected and to do', () => {
  const patched = (at: number, ...bytes: number[]): Uint8Array => {
    const changed = image();
    changed.set(bytes, at);
    return changed;
  };
  test.each<[name: string, path: () => string, message: RegExp]>([
    [
      'a file that is not there',
      () => join(work, 'nowhere.json'),
      /cannot read .*nowhere\.json: there is no such file/,
    ],
    ['a folder', () => work, /it is a folder/],
    ['an empty scenario', () => fileWith(''), /not JSON: the file is empty/],
    ['a broken scenario', () => fileWith('{"scenario": 1,'), /not JSON: /],
    ['another version', () => scenarioWith((d) => (d.scenario = 2)), /scenario: found 2, allowed 1/],
    [
      'a missing entry',
      () => scenarioWith((d) => delete d.said),
      /said: found nothing, allowed a value: this entry must be given/,
    ],
    [
      'a misspelt entry',
      () => scenarioWith((d) => (d.tittle = 'x')),
      /tittle: found an entry of this name, allowed none; check its spelling/,
    ],
    [
      'a negative delay',
      () => scenarioWith((d) => (d.lightPath.stages = [{ kind: 'pure-delay', delayMs: -1 }])),
      /lightPath\.stages\.0\.delayMs: found -1, allowed 0 to 500 ms/,
    ],
    [
      'a delay that is no number',
      () => scenarioWith((d) => (d.lightPath.stages = [{ kind: 'pure-delay', delayMs: 'NaN' }])),
      /delayMs: found "NaN", allowed 0 to 500 ms/,
    ],
    [
      'an unknown panel',
      () => scenarioWith((d) => (d.lightPath.panel = { kind: 'candle' })),
      /lightPath\.panel\.kind: found "candle", allowed 'beam-tube' or 'lcd'/,
    ],
    [
      'an unknown preset',
      () => scenarioWith((d) => (d.lightPath.panel = { kind: 'lcd', preset: 'x' })),
      /lightPath\.panel\.preset: found "x", allowed '/,
    ],
    ['an unknown symbol', () => scenarioWith((d) => (d.said.at = 'verdikt')), /names "verdikt", which is not known/],
    [
      'a broken expression',
      () => scenarioWith((d) => (d.targets.x = 'byte(lampX')),
      /has nothing more at column 11, expected "\)"/,
    ],
    [
      'a fast panel without a frame buffer',
      () => scenarioWith((d) => (d.lightPath.panel = { kind: 'lcd', scanMs: 8 })),
      /frame buffer/,
    ],
    [
      'an empty image',
      () => scenarioWith(() => {}, new Uint8Array()),
      /begins with an empty file, expected the four bytes 4E 45 53 1A/,
    ],
    [
      'another file',
      () => scenarioWith(() => {}, new TextEncoder().encode('hello, this is text')),
      /begins with 68 65 6C 6C/,
    ],
    ['a truncated image', () => scenarioWith(() => {}, image().slice(0, 20_000)), /has 20000 bytes, expected 40976/],
    [
      'an oversized image',
      () => scenarioWith(() => {}, new Uint8Array([...image(), 0])),
      /has 40977 bytes, expected 40976/,
    ],
    ['another circuit', () => scenarioWith(() => {}, patched(6, 0x10)), /circuit number 1, expected circuit 0/],
    [
      'a box that is not where the scenario says',
      () => scenarioWith((d) => (d.targets.marginDots = 8)),
      /bright rectangle is 24 x 24 dots at \(116, 100\), expected .*32 x 32 dots/,
    ],
    [
      'an answer out of range',
      () => scenarioWith((d) => (d.said.target = 'value + 5')),
      /the program said target \d, expected -1 for none, or 0 to 0/,
    ],
    [
      'a program that jams',
      () => scenarioWith(() => {}, patched(16, 0x02)),
      /the program jammed the processor: opcode \$02 at \$8000/,
    ],
  ])('%s', (_, path, message) => {
    const { status, out, err } = run('shoot', path());
    expect(err).toMatch(message);
    expect(err.split('\n')[1]).toMatch(/^ {2}\S.{10,}/); // the cure
    expect(out).not.toMatch(/undefined|NaN/);
    expect(status).toBe(1);
  });

  test.each([
    [['dance'], /the command "dance" is not known/],
    [['shoot'], /no scenario was given/],
    [['shoot', '--nope'], /Unknown option '--nope'/],
    [['shoot', '--shot', '2', `${FOLDER}/tube.json`], /--shot 2; expected a whole number from 1 to 1/],
  ])('the command line %j', (args, message) => {
    const { status, err } = run(...args);
    expect(err).toMatch(message);
    expect(status).toBe(2);
  });
});
