import { describe, expect, test } from 'vitest';
import { openScenario } from '../../src/cli/files.ts';
import { type Cause, explainShot } from '../../src/shot/cause/explain.ts';
import type { CauseId } from '../../src/shot/cause/intervention.ts';
import type { PreparedScenario } from '../../src/shot/prepared-scenario.ts';
import { Shot, type ShotResult } from '../../src/shot/shot.ts';
import { putEach, type TraceEvent } from '../../src/trace/trace.ts';
import { ticksToMs } from '../../src/units/timing.ts';
import { PLANTS } from './plants/index.ts';
import { planted } from './plants/planted.ts';

/** Every event of a shot as the console put it, and the result. */
function rawTrace(prepared: PreparedScenario): { events: TraceEvent[]; result: ShotResult } {
  const events: TraceEvent[] = [];
  const tap = {
    put: (event: TraceEvent) => events.push(event),
    putPortReads: (reads: Parameters<typeof putEach>[0]) => putEach(reads, { put: (event) => events.push(event) }),
  };
  const shot = new Shot(prepared, 0, { tap });
  return { events, result: shot.finish() };
}

function explained(id: CauseId): {
  cause: Cause;
  prepared: PreparedScenario;
  events: TraceEvent[];
  result: ShotResult;
} {
  const [first] = planted(PLANTS.find((plant) => plant.id === id)!, 5);
  const { prepared } = first!;
  const explanation = explainShot(prepared, 0);
  if (explanation.kind !== 'proved') throw new Error(explanation.kind);
  return { prepared, cause: explanation.causes[0]!, ...rawTrace(prepared) };
}

const ticksOf = (events: readonly TraceEvent[], from: number, to: number, port: 1 | 2): number[] =>
  events.flatMap((event) =>
    event.kind === 'port-read' && event.port === port && event.tick >= from && event.tick <= to ? [event.tick] : [],
  );

describe('the numbers of a sentence, recomputed from the raw trace and the flips of the light bit', () => {
  test('First Light on a late LCD: 51.3 ms, 8.9 ms, 42.3 ms too early', () => {
    const prepared = openScenario('homebrew-demo/first-light/late-lcd.json');
    const explanation = explainShot(prepared, 0);
    if (explanation.kind !== 'proved') throw new Error(explanation.kind);
    const [{ fields, sentence }] = explanation.causes as [Cause];
    const { events, result } = rawTrace(prepared);
    const { trigger, decision, flashOnWire } = result.ticks;
    const reads = ticksOf(events, trigger, decision!, 2);
    const lastRead = reads[reads.length - 1]!;
    const crossing = result.flips.find((tick, i) => i % 2 === 0 && tick > decision!)!;
    const ms = (ticks: number): number => ticksToMs(prepared.timing, ticks);
    expect(fields['arrival']!.value).toBe(ms(crossing - flashOnWire!));
    expect(fields['lastRead']!.value).toBe(ms(lastRead - flashOnWire!));
    expect(fields['early']!.value).toBe(ms(crossing - lastRead));
    expect(sentence).toBe(
      "Light from this flash crossed the threshold 51.3 ms after its line left the console; the program's last read was 8.9 ms after: 42.3 ms too early.",
    );
  });

  test('a gap between two reads', () => {
    const { cause, events, result, prepared } = explained('poll-gap');
    const { trigger, decision, crossing } = result.ticks;
    const reads = ticksOf(events, trigger, decision!, 2);
    const before = reads.filter((tick) => tick < crossing!).pop()!;
    const after = reads.find((tick) => tick >= crossing!)!;
    const off = result.flips.find((tick) => tick > crossing!)!;
    expect(cause.fields['gap']!.value).toBe(ticksToMs(prepared.timing, after - before));
    expect(cause.fields['lit']!.value).toBe(ticksToMs(prepared.timing, off - crossing!));
  });

  test('light that was gone', () => {
    const { cause, events, result, prepared } = explained('light-gone');
    const { trigger, decision, crossing, flashOnWire } = result.ticks;
    const after = ticksOf(events, trigger, decision!, 2).find((tick) => tick >= crossing!)!;
    const off = result.flips.find((tick) => tick > crossing!)!;
    expect(cause.fields['firstLook']!.value).toBe(ticksToMs(prepared.timing, after - flashOnWire!));
    expect(cause.fields['late']!.value).toBe(ticksToMs(prepared.timing, after - off));
  });

  test('reads of the wrong port', () => {
    const { cause, events, result } = explained('wrong-port');
    const { trigger, decision, deadline } = result.ticks;
    const port = cause.fields['readPort']!.value as 1 | 2;
    expect(cause.fields['strayReads']!.value).toBe(ticksOf(events, trigger, decision ?? deadline, port).length);
  });

  test('vertical blanks without NMI', () => {
    const { cause, events, result } = explained('no-nmi');
    const { trigger, deadline } = result.ticks;
    const count = (kind: TraceEvent['kind']): number =>
      events.filter((event) => event.kind === kind && event.tick > trigger && event.tick < deadline).length;
    expect(cause.fields['blanksWithoutNmi']!.value).toBe(count('vblank') - count('nmi-raised'));
  });

  test("cycles of the handler's last write behind the vertical blank", () => {
    const { cause, events, result, prepared } = explained('nmi-late');
    let [vblank, excess] = [0, 0];
    for (const event of events) {
      if (event.tick > (result.ticks.decision ?? result.ticks.deadline)) break;
      if (event.tick < result.ticks.trigger - 2 * 262 * 341 * 4) continue;
      if (event.kind === 'vblank') vblank = event.tick;
      const isMemory = event.kind === 'register-write' && [0x2003, 0x2006, 0x2007].includes(event.address);
      const end = event.kind === 'dma' ? event.endTick : event.tick;
      if (vblank > 0 && (isMemory || event.kind === 'dma')) excess = Math.max(excess, end - vblank - 2273.33 * 12);
    }
    expect(cause.fields['excess']!.value).toBeCloseTo(ticksToMs(prepared.timing, excess), 4);
  });

  test('the level that a dim flash reaches lies between half the threshold and the threshold', () => {
    const { cause } = explained('too-dim');
    const { level, threshold, allowed } = cause.fields;
    expect(level!.value).toBeLessThan(threshold!.value);
    expect(level!.value).toBeGreaterThan(threshold!.value / 2);
    expect(allowed!.value).toBeLessThan(level!.value);
  });
});
