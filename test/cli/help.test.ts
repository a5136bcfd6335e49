import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { planSchema } from '../../src/sweep/plan-format.ts';

const CLI = 'dist/cli/cli.js';
const run = (...args: string[]) => spawnSync('node', [CLI, ...args], { encoding: 'utf8' });
const work = mkdtempSync(join(tmpdir(), 'latelight-help-'));
afterAll(() => rmSync(work, { recursive: true, force: true }));

/** The lines under "Example" that are command lines, as arguments. */
const examplesOf = (help: string): string[][] =>
  help
    .slice(help.indexOf('\nExample'))
    .split('\n')
    .filter((line) => line.startsWith('  latelight '))
    .map((line) => line.trim().split(' ').slice(1));

describe.each([
  ['shoot', ['--shot', '--json', '--require-right', '--help']],
  ['flash-check', ['--seconds', '--scale', '--pixel-aspect', '--profile', '--pictures', '--json', '--help']],
  ['sweep', ['--jobs', '--out', '--resume', '--csv', '--junit', '--json', '--quiet', '--scenario-of']],
] as const)('help %s', (command, options) => {
  const help = run('help', command).stdout;

  test('is a page of its own, that of --help, with every option of the command', () => {
    expect(help.startsWith(`latelight ${command} `)).toBe(true);
    expect(run(command, '--help').stdout).toBe(help);
    expect(help).not.toBe(run('--help').stdout);
    for (const option of options) expect(help).toMatch(new RegExp(`^  (-., )?${option}\\b`, 'm'));
    expect(help.split('\n').every((line) => line.length < 160)).toBe(true);
    // Options of other commands are not among them.
    const told = help.match(/^ {2}(?:-., )?(--[a-z-]+)/gm)!.map((line) => line.replace(/^.*--/, '--'));
    expect([...told].sort()).toEqual([...options].sort());
  });

  if (command !== 'sweep') {
    test('has examples that run', () => {
      const examples = examplesOf(help);
      expect(examples.length).toBe(2);
      for (const args of examples) {
        const { status, stdout, stderr } = run(...args);
        expect([args[0], stderr]).toEqual([command, '']);
        expect([0, 3]).toContain(status);
        expect(stdout.length).toBeGreaterThan(100);
      }
    });
  }
});

describe('help sweep', () => {
  const help = run('help', 'sweep').stdout;
  const lines = help.split('\n');

  test('marks the entries that must be given, and no other', () => {
    const needed = Object.entries(planSchema.entries).filter(([, { type }]) => type !== 'exact_optional');
    expect(needed.map(([name]) => name)).toEqual(['sweep', 'title', 'scenario', 'n']);
    for (const name of Object.keys(planSchema.entries)) {
      if (['sensors', 'rooms'].includes(name)) continue; // told with the panels
      const line = lines.find((one) => one.startsWith(`  ${name} `));
      const isNeeded = needed.some(([entry]) => entry === name);
      expect([name, line?.startsWith(`  ${name.padEnd(16)}* `)]).toEqual([name, isNeeded]);
    }
  });

  test('is right: a plan of these entries alone runs, one without any of them is refused', () => {
    const scenario = JSON.parse(readFileSync('homebrew-demo/first-light/tube.json', 'utf8'));
    const files = { image: `${process.cwd()}/homebrew-demo/first-light/first-light.bin` };
    const labels = `${process.cwd()}/homebrew-demo/first-light/first-light.lbl`;
    const plan: Record<string, unknown> = {
      sweep: 1,
      title: 'least',
      scenario: { ...scenario, ...files, labels },
      n: 2,
    };
    const path = join(work, 'plan.json');
    writeFileSync(path, JSON.stringify(plan));
    const { status, stderr } = run('sweep', path, '--quiet');
    expect([status, stderr]).toEqual([0, '']);
    for (const name of Object.keys(plan)) {
      writeFileSync(path, JSON.stringify({ ...plan, [name]: undefined }));
      expect(run('sweep', path).stderr).toContain(`${name}: found nothing`);
    }
  });
});

test('a calibration that the program refuses is no shot, and not right', () => {
  const folder = `${process.cwd()}/homebrew-demo/lamplighter`;
  const document = JSON.parse(readFileSync(`${folder}/calibrated-late-lcd.json`, 'utf8'));
  const path = join(work, 'refuses.json');
  const write = (panel: object): void =>
    writeFileSync(
      path,
      JSON.stringify({
        ...document,
        image: `${folder}/calibrated.bin`,
        labels: `${folder}/calibrated.lbl`,
        lightPath: { ...document.lightPath, panel },
        shots: document.shots.slice(1, 2),
      }),
    );
  write({ kind: 'lcd', fallMs: 180 });
  const { stdout, status } = run('shoot', '--require-right', path);
  expect(stdout).toContain('aim (132, 120)  REFUSED\n  The program refused its calibration: no shot was taken.');
  expect(status).toBe(3);
  expect(JSON.parse(run('shoot', '--json', path).stdout).scenarios[0].shots).toMatchObject([{ judgement: 'refused' }]);
  write({ kind: 'lcd' });
  expect(run('shoot', '--require-right', path)).toMatchObject({ status: 0, stdout: expect.stringContaining('HIT') });
});

describe('a program that jams', () => {
  const folder = 'homebrew-demo/first-light';
  /** First Light with a jam instead of an instruction. */
  function jamming(found: readonly number[]): string {
    const image = readFileSync(`${folder}/first-light.bin`);
    const at = image.indexOf(Buffer.from(found));
    expect(at).toBeGreaterThan(0);
    image[at] = 0x02;
    writeFileSync(join(work, 'jams.bin'), image);
    const document = JSON.parse(readFileSync(`${folder}/tube.json`, 'utf8'));
    const labels = `${process.cwd()}/${folder}/first-light.lbl`;
    writeFileSync(join(work, 'jams.json'), JSON.stringify({ ...document, image: 'jams.bin', labels }));
    return join(work, 'jams.json');
  }
  /** LDA GUN, AND #LIGHT: the loop that looks for light runs after the trigger. */
  const LOOK = [0xad, 0x17, 0x40, 0x29, 0x08];

  test('after the trigger: no decision, and the jam is the cause', () => {
    const path = jamming(LOOK);
    const { status, stdout, stderr } = run('shoot', path);
    expect([status, stderr]).toEqual([0, '']);
    expect(stdout).toContain('NO DECISION');
    expect(stdout).toMatch(/jammed the processor[\s\S]*Cause: jam, proved by running the shot again with: no jam\./);
    // The cause alone: what a re-run changed of the image would make every later one right.
    expect(stdout.match(/Cause:/g)).toHaveLength(1);
    expect(run('shoot', '--require-right', path).status).toBe(3);
    const [scenario] = JSON.parse(run('shoot', '--json', path).stdout).scenarios;
    expect(scenario.shots[0]).toMatchObject({
      judgement: 'no decision',
      said: { kind: 'nothing' },
      ticks: { decision: null },
      explanation: { kind: 'proved', causes: [{ id: 'jam' }] },
    });
  });

  test('before the trigger: refused', () => {
    const { status, stdout, stderr } = run('shoot', jamming([0x78, 0xd8]));
    expect(status).toBe(1);
    expect(stderr).toMatch(/the program jammed the processor: opcode \$02/);
    expect(stdout).not.toContain('NO DECISION');
  });
});
