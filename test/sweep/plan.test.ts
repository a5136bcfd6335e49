import { describe, expect, test } from 'vitest';
import { LatelightError } from '../../src/errors/latelight-error.ts';
import { drawnScenario, runCell } from '../../src/sweep/cell-run.ts';
import { cellPlace } from '../../src/sweep/cells.ts';
import { draw } from '../../src/sweep/draws.ts';
import { prepareCell } from '../../src/sweep/plan.ts';
import { DISK, FIRST_LIGHT, firstLightPlan, openDocument } from './plans.ts';

const refusal = (document: unknown): string => {
  try {
    openDocument(document);
    return 'accepted';
  } catch (error) {
    if (!(error instanceof LatelightError)) throw error;
    return `${error.code} ${error.message}`;
  }
};

describe('what a plan is refused for', () => {
  test('all faults at once, each with what was found and what is allowed', () => {
    const text = refusal(
      firstLightPlan({
        n: 0,
        delays: [-1],
        speed: 3,
        passLimits: [
          { measure: 'hit', atMost: 0.1, atLeast: 0.2 },
          { measure: 'luck', atMost: 1 },
        ],
      }),
    );
    for (const fault of [
      'n: found 0, allowed at least 1',
      'delays',
      'speed: found an entry of this name',
      'passLimits.0',
      'passLimits.1.measure: found "luck"',
    ])
      expect(text).toContain(fault);
  });

  test('faults of the scenarios that it makes name the entry of the plan', () => {
    const text = refusal(
      firstLightPlan({
        panels: { good: { kind: 'lcd' }, bad: { kind: 'lcd', riseMs: 900 } },
        rooms: { dark: { kind: 'cave' } },
        hands: { shaky: { kind: 'swaying-hand', driftDeg: -1 } },
        strategies: { fast: { deadlineFrames: 0 }, other: { lightPath: {} }, lax: { limits: { hitShare: 0.5 } } },
        delays: [501],
      }),
    );
    for (const fault of [
      'panels.bad: lightPath.panel.riseMs: found 900, allowed 0.01 to 200 ms',
      'rooms.dark: lightPath.room.kind: found "cave", allowed \'constant-light\'',
      'hands.shaky: hand.driftDeg: found -1, allowed 0 to 2 degrees',
      'strategies.fast: deadlineFrames: found 0, allowed at least 1',
      'strategies.other.lightPath: found an entry of this name, allowed none',
      'strategies.lax.limits: found an entry of this name, allowed none: it belongs to the scenario or the plan',
      'delays (501 ms): lightPath.stages.0.delayMs: found 501, allowed 0 to 500 ms',
    ])
      expect(text).toContain(fault);
  });

  test('each fault of a scenario is one of the plan, also beyond the 20 that are told', () => {
    const base = JSON.parse(DISK.text(`${FIRST_LIGHT}/tube.json`));
    expect(refusal(firstLightPlan({ scenario: { ...base, speed: 3 } }))).toBe(
      'PLAN_INVALID the plan is not valid: scenario: speed: found an entry of this name, allowed none; check its spelling',
    );
    const shots = Array.from({ length: 25 }, () => ({ aim: { x: 0, y: 0 }, atMs: -1 }));
    expect(() => openDocument(firstLightPlan({ scenario: { ...base, shots } }))).toThrow(
      expect.objectContaining({ details: expect.objectContaining({ count: 25 }) }),
    );
  });

  test.each([
    [{ random: [] }, 'n: found 20, allowed 1: there are cells in which nothing is drawn by lot'],
    [
      { random: ['triggerPhase', 'lampPhase'] },
      "random: found 'lampPhase', allowed what some cell has: no room flickers",
    ],
    [{ random: ['moonPhase'] }, 'random.0: found "moonPhase"'],
    [{ delayStage: 0, delays: [1] }, 'delayStage: found 0, allowed the number of a stage of the scenario'],
    [{ compare: [['a', 'b']] }, "compare: found 'a', allowed a strategy of the plan: it has none"],
    [
      { passLimits: [{ measure: 'hit', atLeast: 0.5, where: { panel: ['tube'] } }] },
      'passLimits.0.where.panel: found "tube"',
    ],
    [{ strategies: {} }, 'strategies: found {}, allowed at least one entry'],
    [{ strategies: { b: {}, 10: {} } }, "not words of JavaScript's own: not '10'"],
    [{ panels: JSON.parse('{"__proto__": {"kind": "lcd"}}') }, "not '__proto__'"],
    [{ aims: [] }, 'aims: found [], allowed an object whose entries have names, not a list'],
    [
      { strategies: { a: {} }, compare: [['a', 'toString']] },
      "compare: found 'toString', allowed a strategy of the plan",
    ],
    [{ strategies: { a: {} }, compare: [['a', 'a']] }, 'allowed two strategies that differ'],
    [{ delays: [0, 5, 0] }, 'delays: found [0,5,0], allowed every entry once'],
    [
      { passLimits: [{ measure: 'hit', atLeast: 0.5, where: { panel: [] } }] },
      'passLimits.0.where.panel: found [], allowed at least one entry; leave the list out for all',
    ],
    [{ delays: { fromMs: 5, toMs: 1, stepMs: 1 } }, 'toMs that is not smaller than fromMs'],
  ])('%j', (changes, text) => {
    expect(refusal(firstLightPlan(changes))).toContain(text);
  });

  // Derived: z^2 (1 - limit) / limit with z = 1.96; for 12 cells z is the quantile of 0.025 / 12, 2.865.
  test.each([
    [{ measure: 'false hit', atMost: 0.001 }, 3837, 3838, {}],
    [{ measure: 'right', atLeast: 0.99 }, 380, 381, {}],
    [{ measure: 'right', atLeast: 0.99 }, 380, 813, { delays: { fromMs: 0, toMs: 11, stepMs: 1 } }],
    [{ measure: 'right', atLeast: 0.99, overCells: 'each' }, 380, 381, { delays: { fromMs: 0, toMs: 11, stepMs: 1 } }],
  ])('a limit %j that %i shots a cell cannot show: %i can', (limit, n, least, axes) => {
    expect(refusal(firstLightPlan({ ...axes, n, passLimits: [limit] }))).toContain(
      `passLimits.0: found n = ${n}, allowed n of at least ${least}`,
    );
    expect(refusal(firstLightPlan({ ...axes, n: least, passLimits: [limit] }))).toBe('accepted');
  });
});

describe('cells', () => {
  const sweep = openDocument(
    firstLightPlan({
      strategies: { one: {}, two: { deadlineFrames: 9 } },
      delays: { fromMs: 0, toMs: 0.3, stepMs: 0.1 },
      panels: { tube: { kind: 'beam-tube' }, LCD: { kind: 'lcd' } },
      aims: { on: { x: 128, y: 112 }, off: { x: 10, y: 10 } },
    }),
  );

  test('every entry of an axis meets every entry of the others once', () => {
    expect(sweep.cellCount).toBe(32);
    expect(sweep.entries.delayMs).toEqual([0, 0.1, 0.2, 0.3]);
    const places = Array.from({ length: 32 }, (_, cell) => JSON.stringify(cellPlace(sweep.entries, cell)));
    expect(new Set(places).size).toBe(32);
  });

  test('a cell has the light path and the strategy of its place', () => {
    const { prepared, place } = prepareCell(sweep, 31);
    expect(place).toMatchObject({ strategy: 'two', delayMs: 0.3, panel: 'LCD', aim: 'off' });
    expect(prepared.scenario.lightPath.stages).toEqual([{ kind: 'pure-delay', delayMs: 0.3 }]);
    expect(prepared.scenario.lightPath.panel.kind).toBe('lcd');
    expect(prepared.scenario.deadlineFrames).toBe(9);
  });

  test('delays can be put into a stage that the scenario has', () => {
    const document = firstLightPlan({ scenario: 'late-lcd.json', delays: [7], delayStage: 0 });
    expect(prepareCell(openDocument(document), 0).prepared.scenario.lightPath.stages).toEqual([
      { kind: 'pure-delay', delayMs: 7 },
    ]);
  });
});

describe('draws', () => {
  const plan = (changes = {}) =>
    openDocument(
      firstLightPlan({
        strategies: { one: {}, two: { deadlineFrames: 12 } },
        panels: { dimmed: { kind: 'lcd', preset: 'dimmed-lcd' }, steady: { kind: 'lcd' } },
        hands: { sway: { kind: 'swaying-hand' } },
        ...changes,
      }),
    );
  const drawn = (sweep: ReturnType<typeof plan>, cell: number, shot: number) => {
    const { shots, seed, lightPath } = drawnScenario(sweep, cell, shot);
    return { atMs: shots[0]!.atMs, seed, phase: lightPath.panel['pwmPhase01'] };
  };

  test('a shot draws by its number: strategies see the same, other shots and other seeds something else', () => {
    const sweep = plan();
    for (let shot = 0; shot < 50; shot++) expect(drawn(sweep, 0, shot)).toEqual(drawn(sweep, 2, shot));
    const all = Array.from({ length: 200 }, (_, shot) => drawn(sweep, 0, shot));
    for (const key of ['atMs', 'seed', 'phase'] as const) expect(new Set(all.map((one) => one[key])).size).toBe(200);
    expect(drawn(plan({ seed: 2 }), 0, 0)).not.toEqual(drawn(sweep, 0, 0));
  });

  test('what is drawn lies in one frame and one period, and fills it: no grid, mean and spread of an even distribution', () => {
    const phases = Array.from(
      { length: 4000 },
      (_, shot) => (drawn(plan(), 0, shot).atMs - 500) / ((89342 * 4 * 11) / 236_250),
    );
    const mean = phases.reduce((sum, phase) => sum + phase, 0) / phases.length;
    expect(Math.min(...phases)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...phases)).toBeLessThan(1);
    expect(Math.abs(mean - 0.5)).toBeLessThan(4 / Math.sqrt(12 * 4000));
  });

  test('axes are independent: their correlation over 4,000 shots is within four standard errors of none', () => {
    const axes = ['triggerPhase', 'backlightPhase', 'lampPhase', 'hand'] as const;
    for (const one of axes) {
      for (const other of axes.filter((axis) => axis > one)) {
        let sum = 0;
        for (let shot = 0; shot < 4000; shot++) sum += (draw(1, one, shot) - 0.5) * (draw(1, other, shot) - 0.5) * 12;
        expect(Math.abs(sum / 4000)).toBeLessThan(4 / Math.sqrt(4000));
      }
    }
  });

  test('an axis that the plan does not name stays where the scenario has it', () => {
    const sweep = plan({ random: ['backlightPhase', 'triggerPhase'] });
    const still = plan({ random: ['triggerPhase'] });
    expect(drawn(sweep, 0, 3).phase).not.toBe(0);
    expect(drawn(still, 0, 3).phase).toBe(0);
    expect(drawn(still, 1, 3)).toEqual({ ...drawn(sweep, 1, 3), phase: 0 });
  });
});

test('an aim relative to a target is that from its centre, as the glass shows it', () => {
  const sweep = openDocument(
    firstLightPlan({ n: 1, aims: { lamp: { target: 0, dx: 3, dy: -2 }, gone: { target: 4 } } }),
  );
  expect(runCell(sweep, 0)).toMatchObject({ x: 131, y: 110, outcomes: 'h' });
  expect(runCell(sweep, 1).refused).toContain(
    'target of the aim is 4, expected a target that is live and on the glass at the trigger',
  );
});
