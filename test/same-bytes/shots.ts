import { prepareScenario } from '../../src/shot/prepared-scenario.ts';
import { checkScenario } from '../../src/shot/scenario.ts';
import { type Engine, runShot } from '../../src/shot/shot.ts';
import { Fingerprint } from '../../src/units/hash.ts';
import { hashNoise } from '../../src/units/noise.ts';

export interface FirstLightFiles {
  readonly image: Uint8Array;
  readonly labels: string;
  readonly scenario: string;
}

const SHOTS = 200;

/** One hash over flips, instants and judgement of 200 shots through random light paths, on all three timings. */
export function hashOfShots(
  files: FirstLightFiles,
  engine: Engine,
): { hash: string; judgements: Record<string, number> } {
  const fingerprint = new Fingerprint();
  const judgements: Record<string, number> = {};
  for (let i = 0; i < SHOTS; i++) {
    const result = runShot(prepareScenario(checkScenario(randomScenario(files.scenario, i)), files), 0, { engine });
    judgements[result.judgement] = (judgements[result.judgement] ?? 0) + 1;
    fingerprint.addText(result.judgement).addText(JSON.stringify(result.said));
    for (const tick of Object.values(result.ticks)) fingerprint.addDouble(tick ?? -1);
    for (const tick of result.flips) fingerprint.addDouble(tick);
    for (const share of result.truth.shares) fingerprint.addDouble(share);
    fingerprint.addInt(result.flips.length).addInt(result.reads.length);
  }
  return { hash: fingerprint.digest(), judgements };
}

function randomScenario(json: string, i: number): unknown {
  const draw = (stream: number, low: number, high: number): number => low + (high - low) * hashNoise(7, stream, i);
  const document = JSON.parse(json);
  document.timing = ['60hz', '50hz', '50hz-clone'][i % 3];
  document.alignment = { cpuPhaseTicks: Math.floor(draw(1, 0, 12)), putParity: i % 2 };
  document.lightPath.panel =
    i % 4 === 0
      ? { kind: 'beam-tube', whiteCdM2: draw(2, 60, 200) }
      : {
          kind: 'lcd',
          riseMs: draw(3, 0.5, 12),
          fallMs: draw(4, 0.5, 12),
          scanMs: draw(5, 15.5, 16.6),
          whiteCdM2: draw(2, 100, 400),
        };
  document.lightPath.stages =
    i % 5 === 0 ? [{ kind: 'frame-buffer', frames: 1 }] : [{ kind: 'pure-delay', delayMs: draw(6, 0, 25) }];
  document.lightPath.room.illuminanceLux = draw(7, 0, 500);
  document.lightPath.optics.radiusDots = draw(8, 2, 9);
  document.lightPath.sensor.thresholdCdM2 = draw(9, 5, 60);
  document.deadlineFrames = 6;
  // A third of the aims near the lamp's middle, a third anywhere around it, a third on nothing.
  const reach = [3, 16, 90][Math.floor(i / 3) % 3]!;
  const aim = { x: 128 + draw(10, -reach, reach), y: 112 + draw(11, -reach, reach) };
  document.shots = [{ aim, atMs: draw(12, 90, 110) }];
  return document;
}
