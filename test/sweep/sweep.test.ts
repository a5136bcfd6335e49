import { describe, expect, test } from 'vitest';
import { prepareScenario } from '../../src/shot/prepared-scenario.ts';
import { checkScenario } from '../../src/shot/scenario.ts';
import { runShot } from '../../src/shot/shot.ts';
import { type CellResult, drawnScenario, runCell } from '../../src/sweep/cell-run.ts';
import { compareStrategies } from '../../src/sweep/comparison.ts';
import { EdgeWatch } from '../../src/sweep/edges.ts';
import { journalHead, journalLine, readJournal, sortedJournal } from '../../src/sweep/journal.ts';
import { packOutcomes, unpackOutcomes } from '../../src/sweep/outcome.ts';
import type { Sweep } from '../../src/sweep/plan.ts';
import { sweepCsv } from '../../src/sweep/report/csv-report.ts';
import { sweepJson } from '../../src/sweep/report/json-report.ts';
import { sweepJunit } from '../../src/sweep/report/junit-report.ts';
import { sweepText } from '../../src/sweep/report/text-report.ts';
import { summarize } from '../../src/sweep/summary.ts';
import { DISK, firstLightPlan, openDocument } from './plans.ts';

const all = (sweep: Sweep): CellResult[] => Array.from({ length: sweep.cellCount }, (_, cell) => runCell(sweep, cell));

function watchEdges(sweep: Sweep, results: readonly CellResult[]): void {
  const watch = new EdgeWatch(sweep);
  for (const result of results) watch.add(result);
}

describe('a cell', () => {
  const axes = {
    n: 8,
    delays: [7.9],
    panels: { LCD: { kind: 'lcd' }, dimmed: { kind: 'lcd', preset: 'dimmed-lcd' } },
    hands: { still: null, pull: { kind: 'swaying-hand', preset: 'one-handed-pull' } },
  };

  test('gives the same bytes from a shared start and from power-on', () => {
    const sweep = openDocument(firstLightPlan({ ...axes, n: 5 }));
    for (const cell of [0, 1, 2, 3]) {
      const shared = JSON.stringify(runCell(sweep, cell));
      expect(JSON.stringify(runCell(sweep, cell, { sharesStart: false }))).toBe(shared);
    }
  });

  test('gives the same bytes on the reference console', () => {
    const sweep = openDocument(firstLightPlan({ ...axes, n: 2 }));
    expect(JSON.stringify(runCell(sweep, 1, { engine: 'reference' }))).toBe(JSON.stringify(runCell(sweep, 1)));
  });

  test('the same with a pull before the shot, as a calibration is: it runs once a cell', () => {
    const pulls = [{ aim: { x: 20, y: 20 }, atMs: 200 }];
    const sweep = openDocument(
      firstLightPlan({ ...axes, strategies: { pulled: { pulls } }, scenario: 'tube.json', n: 4 }),
    );
    expect(runCell(sweep, 0).outcomes).toMatch(/[hm]/);
    for (const cell of [0, 1, 2, 3])
      expect(JSON.stringify(runCell(sweep, cell, { sharesStart: false }))).toBe(JSON.stringify(runCell(sweep, cell)));
  });

  test('each of its shots is a scenario of its own with the same outcome', () => {
    const sweep = openDocument(firstLightPlan({ ...axes, aims: { border: { target: 0, dx: 6 } } }));
    for (const cell of [1, 3]) {
      const outcomes = unpackOutcomes(runCell(sweep, cell).outcomes);
      for (let shot = 0; shot < 8; shot++) {
        const scenario = drawnScenario(sweep, cell, shot);
        const files = { image: DISK.bytes(scenario.image), labels: DISK.text(scenario.labels!) };
        const { judgement } = runShot(prepareScenario(checkScenario(JSON.parse(JSON.stringify(scenario))), files), 0);
        expect(judgement[0]).toBe(outcomes[shot]);
      }
    }
  });

  test('a fault of the scenario refuses the cell and says why', () => {
    const sweep = openDocument(
      firstLightPlan({
        strategies: {
          'wrong margin': {
            targets: { count: 1, x: 'byte(lampX)', y: 'byte(lampY)', width: '16', height: '16', marginDots: 9 },
          },
        },
      }),
    );
    const result = runCell(sweep, 0);
    expect(result).toMatchObject({
      outcomes: '',
      refused: expect.stringContaining('in the flash picture the bright rectangle is 24 x 24 dots'),
    });
    const summary = summarize(sweep, [result]);
    expect(summary.isPassed).toBe(false);
    expect(sweepText(summary)).toContain('1 cells could not be shot');
    expect(sweepJunit(summary)).toContain('failures="1"');
  });
});

describe('a whole sweep', () => {
  const sweep = openDocument(
    firstLightPlan({
      title: 'First Light, "late" & <later>',
      n: 12,
      strategies: { early: {}, late: { deadlineFrames: 11 } },
      delays: [0, 50],
      aims: { lamp: { x: 128, y: 112 }, 'dark, sky': { x: 20, y: 20 } },
      passLimits: [
        { measure: 'right', atLeast: 0.6, where: { aim: ['lamp'] } },
        { measure: 'false hit', atMost: 0.5, where: { strategy: ['early'] } },
      ],
    }),
  );
  const results = all(sweep);
  const summary = summarize(sweep, results);

  test('rates, limits and comparisons: the late lamp fails, and its times are told', () => {
    expect(results.map(({ outcomes }) => outcomes)).toEqual(['h12', 'n12', 'm12', 'n12', 'h12', 'n12', 'm12', 'n12']);
    expect(summary.limits.map(({ isPassed }) => isPassed)).toEqual([false, true]);
    expect(summary.limits[0]!.cells.map(({ verdict }) => verdict)).toEqual(['shown', 'broken', 'shown', 'broken']);
    // Cells at the lamp count no false hit.
    expect(summary.limits[1]!.empty).toEqual([0, 2]);
    expect(compareStrategies(sweep, results)[0]).toMatchObject({
      difference: 0,
      onlyFirst: 0,
      p: 1,
      n: 12,
      isShown: false,
    });
    const text = sweepText(summary);
    expect(text).toContain('FAILED  right at least 0.6: shown in 2 of 4 cells, n = 12');
    expect(text).toMatch(
      /cell 2 \(early, 50 ms, lamp\): 0 of 12, beyond the limit\n {4}shot 1, trigger at \d+\.\d{3} ms, miss: Light from this flash crossed/,
    );
    expect(text).toMatch(/light 4\d\.\d to 4\d\.\d ms after the last look/);
    expect(text).toContain('else an edge: 0 of 96 shots (0.0 %), in no rate');
    expect(text).toContain('on a target from a share of 0.65 of the spot on, on nothing up to 0.1');
  });

  test('CSV quotes what has commas; JSON holds every rate with both intervals', () => {
    const lines = sweepCsv(summary).split('\r\n');
    expect(lines.length).toBe(10);
    expect(lines[2]).toContain('"dark, sky"');
    expect(lines[1]!.split(',').length).toBe(lines[0]!.split(',').length);
    const json = JSON.parse(sweepJson(summary));
    expect(json.cells[0].rates.hit).toEqual({
      events: 12,
      n: 12,
      rate: 1,
      interval: { low: expect.closeTo(0.7575, 4), high: 1 },
      // Derived: 0.025^(1/12).
      exactInterval: { low: expect.closeTo(0.7354, 4), high: 1 },
    });
    expect(json.cells[0].rates['false hit']).toEqual({
      events: 0,
      n: 0,
      rate: null,
      interval: { low: 0, high: 1 },
      exactInterval: { low: 0, high: 1 },
    });
    expect(json.isPassed).toBe(false);
  });

  test('JUnit: a suite for each limit, special signs escaped', () => {
    const xml = sweepJunit(summary);
    expect(xml).toContain('<testsuites name="First Light, &quot;late&quot; &amp; &lt;later&gt;">');
    expect(xml).toContain('<testsuite name="right at least 0.6" tests="4" failures="2" errors="0">');
    expect(xml.match(/<testcase /g)?.length).toBe(4 + 2 + 8);
  });

  test('the journal is read back; a last line that was cut off is left out wherever it was cut', () => {
    const text = sortedJournal(sweep, results);
    expect(readJournal(text, sweep, 'a')).toEqual(results);
    const last = text.length - 1 - journalLine(results[7]!).length;
    for (let length = last; length < text.length; length += 7)
      expect(readJournal(text.slice(0, length), sweep, 'a').length).toBe(7);
    expect(readJournal('', sweep, 'a')).toEqual([]);
    expect(readJournal(`${text}\u0000\u0000\n`, sweep, 'a').length).toBe(8);
  });

  test('a journal that was changed, or of another plan, is refused', () => {
    const lines = [journalHead(sweep), ...results.map(journalLine), ''].map(String);
    const changed = [...lines];
    changed[3] = changed[3]!.replace('"m12"', '"h12"');
    expect(() => readJournal(changed.join('\n'), sweep, 'a')).toThrow('line 4 of a is');
    const other = openDocument(firstLightPlan({ n: 13 }));
    expect(() => readJournal(lines.join('\n'), other, 'a')).toThrow('belongs to another plan');
  });
});

test('outcomes are packed and unpacked', () => {
  for (const text of ['', 'h', 'hhhmDDDDDDDDDDDDe', 'hmhm']) expect(unpackOutcomes(packOutcomes(text))).toBe(text);
  expect(packOutcomes('hhhm')).toBe('h3m');
});

test('more than 20 % edges stop the sweep, unless the plan says so', () => {
  const plan = (more: object) =>
    openDocument(firstLightPlan({ n: 10, aims: { centre: { target: 0 }, border: { target: 0, dx: 8 } }, ...more }));
  const refusing = plan({});
  const results = all(refusing);
  expect(results[1]!.outcomes).toBe('e10');
  expect(() => watchEdges(refusing, results)).toThrow(
    '10 of 20 shots lie on the border of a target, allowed at most 20 %',
  );
  const allowing = plan({ allowManyEdges: true });
  expect(() => watchEdges(allowing, results)).not.toThrow();
  expect(sweepText(summarize(allowing, results))).toContain(
    '10 of 20 shots (50.0 %), in no rate, more than a plan should have',
  );
});

test('paired: strategies that differ are told apart on the same draws', () => {
  // A lamp whose light bit is asked on the other port is never seen: the second strategy always misses.
  const sweep = openDocument(
    firstLightPlan({
      n: 10,
      strategies: {
        right: {},
        'wrong port': { ports: ['light sensor', 'light sensor'] },
        deaf: { ports: ['pad', 'light sensor'] },
      },
    }),
  );
  const results = all(sweep).map((result) => (result.strategy === 'deaf' ? { ...result, outcomes: 'm10' } : result));
  const [same, other] = compareStrategies(sweep, results);
  expect(same).toMatchObject({ second: 'wrong port', difference: 0, isShown: false });
  // Derived: ten of ten discordant draws one way, p = 2 / 2^10.
  expect(other).toMatchObject({ second: 'deaf', difference: 1, onlyFirst: 10, onlySecond: 0, isShown: true });
  expect(other!.p).toBeCloseTo(2 / 1024, 12);
});
