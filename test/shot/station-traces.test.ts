import { expect, test } from 'vitest';
import { openScenario } from '../../src/cli/files.ts';
import { rehearse } from '../../src/shot/rehearsal.ts';
import { ticksToMs } from '../../src/units/timing.ts';

const LAMP = { x: 52, y: 36 };
const STAGES = [
  { kind: 'pure-delay', delayMs: 20 },
  { kind: 'pure-delay', delayMs: 31 },
];

test('the flash stands on the wire when it left the plug, and behind each stage later by what the stage says', () => {
  const prepared = openScenario('homebrew-demo/lamplighter/tube.json');
  const scenario = { ...prepared.scenario, lightPath: { ...prepared.scenario.lightPath, stages: STAGES } };
  const { outcome } = rehearse({ ...prepared, scenario }, LAMP);
  if (outcome.kind !== 'judged') throw outcome.error;
  const { result, wires } = outcome;
  expect(wires.traces.length).toBe(3);
  const columnMs = (wires.toMs - wires.fromMs) / wires.traces[0]!.length;
  const brightest = (trace: Float32Array): number => wires.fromMs + columnMs * trace.indexOf(Math.max(...trace));
  const { flashOnWire, trigger } = result.ticks;
  const flashMs = ticksToMs(prepared.timing, flashOnWire! - trigger);
  for (const [i, lateMs] of [0, 20, 51].entries()) {
    expect(Math.max(...wires.traces[i]!)).toBeGreaterThan(0.9);
    expect(Math.abs(brightest(wires.traces[i]!) - flashMs - lateMs)).toBeLessThan(columnMs + 0.6);
  }
});
