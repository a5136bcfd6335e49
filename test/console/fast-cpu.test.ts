import { describe, expect, it, vi } from 'vitest';
import { ReferenceCpu } from '../../src/console/cpu/reference-cpu.ts';
import { FastMachine, type Machine, ReferenceMachine } from './random-machines.ts';
import { Draws, RandomWorld } from './random-world.ts';

const FIRST_SEED = 1;
/** Beyond 2^31, where 32-bit counters have overflowed. */
const FAR_CYCLE = 0x2_4000_0000;

const startOf = (seed: number) => {
  const draws = new Draws(seed ^ 0x5eed);
  const cycle = FAR_CYCLE + draws.below(0x10000);
  const nmiLine = new RandomWorld(seed).nmiLineAt(cycle - 1);
  const registers = { a: draws.below(256), x: draws.below(256), y: draws.below(256), s: draws.below(256) };
  const state = { ...registers, p: draws.below(256), pc: draws.below(0x10000), nmiLine };
  return { draws, state, cycle };
};

/** Everything that must be equal; the memory apart. */
const pictureOf = (machine: Machine) => {
  const { dataBus, history, isNmiOn, irqCycle, holdCycle, heldCycles, counts } = machine.world;
  return {
    cycle: machine.cycle,
    cpu: machine.save(),
    world: { dataBus, history, isNmiOn, irqCycle, holdCycle, heldCycles, counts },
  };
};

function expectEqual(found: Machine, expected: Machine, seed: number): void {
  const isSame =
    JSON.stringify(pictureOf(found)) === JSON.stringify(pictureOf(expected)) &&
    Buffer.compare(found.world.memory, expected.world.memory) === 0;
  if (isSame) return;
  const recent = { found: found.world.recent, expected: expected.world.recent };
  expect({ seed, ...pictureOf(found), recent: recent.found }).toEqual({
    seed,
    ...pictureOf(expected),
    recent: recent.expected,
  });
  expect(found.world.memory).toEqual(expected.world.memory);
}

/** Random length: mostly short, now and then a frame. */
const sliceOf = (draws: Draws): number => draws.below(draws.chance(70) ? 60 : draws.chance(80) ? 1500 : 30_000);

interface Totals {
  cycles: number;
  episodes: number;
  jams: number;
  exchanges: number;
  skipped: number;
  [count: string]: number;
}

const newTotals = (): Totals => ({ cycles: 0, episodes: 0, jams: 0, exchanges: 0, skipped: 0 });

/**
 * One random world: the reference and the fast processor side by side, compared after each slice, until the processor has
 * been jammed for a while or `cycles` are over. `exchangePercent`: how often both go on from the other one's state.
 */
function runEpisode(seed: number, cycles: number, exchangePercent: number, totals: Totals): void {
  const { draws, state, cycle } = startOf(seed);
  let reference: Machine = new ReferenceMachine(new RandomWorld(seed), state, cycle);
  let fast = new FastMachine(new RandomWorld(seed), state, cycle);
  let jammedSlices = 0;
  while (reference.cycle < cycle + cycles && jammedSlices < 3) {
    const limit = reference.cycle + sliceOf(draws);
    reference.run(limit);
    fast.run(limit);
    expectEqual(fast, reference, seed);
    if (reference.isJammed) jammedSlices++;
    if (draws.chance(exchangePercent)) {
      totals.exchanges++;
      [reference, fast] = [
        new ReferenceMachine(fast.world, fast.save(), fast.cycle),
        new FastMachine(reference.world, reference.save(), reference.cycle),
      ];
    }
  }
  totals.cycles += reference.cycle - cycle;
  totals.skipped += fast.skippedCycles;
  totals.episodes++;
  if (reference.isJammed) totals.jams++;
  for (const [name, count] of Object.entries(reference.world.counts)) totals[name] = (totals[name] ?? 0) + count;
}

function runEpisodes(firstSeed: number, cycles: number, exchangePercent: number): Totals {
  const totals = newTotals();
  for (let seed = firstSeed; totals.cycles < cycles; seed++) runEpisode(seed, 60_000, exchangePercent, totals);
  return totals;
}

/** Steps of the reference processor, whoever takes them, while `run` is carried out. */
function countSteps(run: () => void): number {
  const spy = vi.spyOn(ReferenceCpu.prototype, 'step');
  run();
  const { length } = spy.mock.calls;
  spy.mockRestore();
  return length;
}

describe('fast processor against the reference', () => {
  it('100 million cycles of random code in random worlds: equal state, clock, memory and claimed accesses', () => {
    const totals = runEpisodes(FIRST_SEED, 100_000_000, 0);
    for (const name of ['claimed', 'nmi', 'irq', 'holds', 'fetched', 'remaps', 'limits']) {
      expect(totals[name], name).toBeGreaterThan(10_000);
    }
    expect(totals.jams).toBeGreaterThan(1000);
    expect(totals.skipped).toBeGreaterThan(100_000);
  });

  it('each goes on from the state of the other, wherever they are exchanged', () => {
    const totals = runEpisodes(1_000_000, 5_000_000, 20);
    expect(totals.exchanges).toBeGreaterThan(1000);
  });

  it('one run and random short slices end in the same state', () => {
    for (let seed = 2_000_000; seed < 2_000_100; seed++) {
      const { draws, state, cycle } = startOf(seed);
      const whole = new FastMachine(new RandomWorld(seed), state, cycle);
      const cut = new FastMachine(new RandomWorld(seed), state, cycle);
      const end = cycle + 30_000;
      while (whole.cycle < end) whole.run(end);
      while (cut.cycle < end) cut.run(Math.min(end, cut.cycle + 1 + sliceOf(draws)));
      expectEqual(cut, whole, seed);
    }
  });

  it('most instructions are run by the loop, few by the reference inside', () => {
    let reference = 0;
    let inside = 0;
    for (let seed = 3_000_000; seed < 3_000_100; seed++) {
      const { state, cycle } = startOf(seed);
      const slow = new ReferenceMachine(new RandomWorld(seed), state, cycle);
      const fast = new FastMachine(new RandomWorld(seed), state, cycle);
      while (!slow.isJammed && slow.cycle < cycle + 10_000) slow.run(cycle + 10_000);
      reference += slow.instructions;
      inside += countSteps(() => {
        while (fast.cycle < slow.cycle) fast.run(slow.cycle);
      });
    }
    expect(inside).toBeLessThan(reference / 2);
    expect(inside).toBeGreaterThan(reference / 100);
  });
});
