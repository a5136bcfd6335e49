import { execFileSync, spawn, spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { Fingerprint } from '../../src/units/hash.ts';
import { hashNoise } from '../../src/units/noise.ts';
import { runBuilt } from '../run-built.ts';
import recorded from './hash.json';
import { FIRST_LIGHT } from './plans.ts';
import { UNEQUAL_PLAN } from './unequal-plan.ts';

const CLI = 'dist/cli/cli.js';
const work = mkdtempSync(join(tmpdir(), 'latelight-sweep-'));
cpSync(FIRST_LIGHT, work, { recursive: true });
afterAll(() => rmSync(work, { recursive: true, force: true }));
const plan = join(work, 'plan.json');
writeFileSync(plan, JSON.stringify(UNEQUAL_PLAN));
const long = join(work, 'long.json');
/** Half a million shots a cell: minutes, whatever else the machine does. */
writeFileSync(long, JSON.stringify({ ...UNEQUAL_PLAN, n: 500_000 }));

const journal = (name: string): string => join(work, `${name}.jsonl`);
const sweep = (...args: string[]) => spawnSync('node', [CLI, 'sweep', ...args], { encoding: 'utf8' });

/** Start a sweep and end it after a while: SIGKILL as a machine that loses its power does, SIGINT as Control-C does. */
async function endedAfter(ms: number, signal: 'SIGKILL' | 'SIGINT', ...args: string[]): Promise<void> {
  const child = spawn('node', [CLI, 'sweep', '--quiet', ...args], { stdio: 'ignore' });
  const ended = new Promise((resolve) => child.once('exit', resolve));
  const timer = setTimeout(() => child.kill(signal), ms);
  await ended;
  clearTimeout(timer);
}

// How often the whole run is killed; `npm run bench:sweep` does it 20 times.
const KILLS = Number(process.env['LATELIGHT_KILLS'] ?? 4);

test('a run that is to go on needs the file of the one before', () => {
  const { status, stderr } = sweep(plan, '--resume');
  expect(status).toBe(2);
  expect(stderr.toString()).toContain('--resume without --out; expected --out FILE --resume');
});

test('1, 2 and 4 workers write the same bytes, those on record; so does a run that was killed and stopped at random points and resumed', async () => {
  const took = performance.now();
  expect(sweep(plan, '--jobs', '1', '--quiet', '--out', journal('one')).status).toBe(0);
  const wholeMs = performance.now() - took;
  const bytes = readFileSync(journal('one'), 'utf8');
  expect(new Fingerprint().addText(bytes).digest()).toBe(recorded.unequal);
  for (const jobs of ['2', '4']) {
    expect(sweep(plan, '--jobs', jobs, '--quiet', '--out', journal(jobs)).status).toBe(0);
    expect(readFileSync(journal(jobs), 'utf8')).toBe(bytes);
  }
  for (let kill = 0; kill < KILLS; kill++) {
    const at = (0.1 + 0.6 * hashNoise(5, 0, kill)) * wholeMs;
    const signal = kill % 4 < 2 ? 'SIGKILL' : 'SIGINT';
    await endedAfter(at, signal, plan, '--jobs', String(1 + (kill % 3)), '--resume', '--out', journal('killed'));
    // A kill may also cut the last line in two.
    if (kill % 2 === 1 && existsSync(journal('killed'))) {
      const { length } = readFileSync(journal('killed'));
      if (length < bytes.length) truncateSync(journal('killed'), Math.max(0, length - 37));
    }
  }
  expect(sweep(plan, '--jobs', '2', '--quiet', '--resume', '--out', journal('killed')).status).toBe(0);
  expect(readFileSync(journal('killed'), 'utf8')).toBe(bytes);
});

test('workers that are ended in mid-cell are replaced, and their cells run again to the same bytes', () => {
  expect(runBuilt('test/sweep/print-lost-workers.ts', plan, '6')).toEqual({ cells: 24, lost: 6, isEqual: true });
});

describe('a sweep that is stopped', () => {
  test('ends in mid-cell, keeps its complete cells and says how to go on', async () => {
    const times: number[] = [];
    for (let i = 0; i < 3; i++) {
      const child = spawn('node', [CLI, 'sweep', long, '--jobs', '2', '--resume', '--out', journal('stopped')]);
      let err = '';
      child.stderr.on('data', (text) => {
        err += text;
      });
      await new Promise((resolve) => child.stderr.once('data', resolve)); // the first progress: workers are in mid-cell
      const stopped = performance.now();
      child.kill('SIGINT');
      const status = await new Promise((resolve) => child.once('exit', resolve));
      times.push(performance.now() - stopped);
      expect(status).toBe(130);
      expect(err).toMatch(/\d+ of 24 cells, [\d.]+ %(, \d+ (s|min|h) .*left)?/);
      // The cells that were under way are not in it, and the next round goes on with the same file.
      expect(err).toMatch(/stopped after 0 of 24 cells; they are in .*stopped\.jsonl, go on with --resume/);
      expect(readFileSync(journal('stopped'), 'utf8').split('\n')).toHaveLength(2);
    }
    // The aim is 200 ms. Other work may hold the process up, but never for as long as a cell takes.
    console.log(
      `a sweep ended ${times.map((ms) => ms.toFixed(0)).join(', ')} ms after Control-C (load ${loadavg()[0]!.toFixed(1)})`,
    );
    expect(Math.min(...times)).toBeLessThan(5000);
  });

  test('a journal that is there is not written over, and one of another plan not gone on with', () => {
    expect(sweep(plan, '--out', journal('one')).stderr).toContain('is there already');
    const other = sweep(long, '--resume', '--out', journal('one'));
    expect(other.status).toBe(1);
    expect(other.stderr).toContain('belongs to another plan');
  });
});

test('the example of help sweep runs', () => {
  const help = execFileSync('node', [CLI, 'help', 'sweep'], { encoding: 'utf8' });
  const example = JSON.parse(help.slice(help.indexOf('Example') + 'Example'.length));
  writeFileSync(join(work, 'example.json'), JSON.stringify({ ...example, scenario: 'tube.json', n: 306, delays: [0] }));
  const { status, stdout } = sweep(join(work, 'example.json'), '--quiet');
  expect(stdout).toContain('PASSED  right at least 0.98');
  expect(status).toBe(0);
});
