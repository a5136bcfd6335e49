import { readFileSync } from 'node:fs';
import { type PreparedScenario, prepareScenario, type ScenarioFiles } from '../../src/shot/prepared-scenario.ts';
import { checkScenario } from '../../src/shot/scenario.ts';
import { TIMINGS, type TimingId, ticksPerFrame, ticksToMs } from '../../src/units/timing.ts';
import { assembledProgram, LAMPLIGHTER, type Strategy } from '../lamplighter.ts';
import type { TheoremPath } from './light-paths.ts';

export interface Aim {
  readonly x: number;
  readonly y: number;
}

/** Middle of the mark, and of the three lamps of the practice street. */
export const MARK: Aim = { x: 128, y: 120 };
export const LAMPS: readonly Aim[] = [
  { x: 52, y: 36 },
  { x: 132, y: 120 },
  { x: 212, y: 204 },
];
/** 90 dots and more from every lamp, so that no share is above 0.001, wherever its moth is. */
export const NOWHERE: Aim = { x: 200, y: 40 };

export interface Pull {
  readonly aim: Aim;
  readonly atMs: number;
}

/** A visit to the practice street: what is in it, and which way its light goes. */
export interface Street {
  readonly files: ScenarioFiles;
  readonly path: TheoremPath;
  readonly delayMs: number;
  readonly shots: readonly Pull[];
  /** Pulls before the shot: that at the mark. */
  readonly pulls?: readonly Pull[];
  /** When button A changes from lamps to moths. */
  readonly mothsAtMs?: number;
  readonly timing?: TimingId;
  readonly deadlineFrames?: number;
  /** Entries of the scenario that are not as usual. */
  readonly more?: Readonly<Record<string, unknown>>;
}

const { calibration, ...document } = JSON.parse(readFileSync(`${LAMPLIGHTER}/calibrated-late-lcd.json`, 'utf8'));

/** The entries about targets. */
export const TARGET_ENTRIES: Readonly<Record<string, unknown>> = document.targets;

/** The image and labels that are checked in. */
export const builtFiles = (strategy: Strategy): ScenarioFiles => ({
  image: new Uint8Array(readFileSync(`${LAMPLIGHTER}/${strategy}.bin`)),
  labels: readFileSync(`${LAMPLIGHTER}/${strategy}.lbl`, 'utf8'),
});

/** Only this strategy's program has the delay that the calibration entry names. */
const isCalibrated = ({ labels }: ScenarioFiles): boolean =>
  new RegExp(`\\.${calibration.at}$`, 'm').test(labels ?? '');

/** The same from a source in which texts are replaced; every one of them must be there exactly once. */
export function changedFiles(strategy: Strategy, changes: Readonly<Record<string, string>>): ScenarioFiles {
  const left = new Set(Object.keys(changes));
  const { image, errors, symbols } = assembledProgram(strategy, (_, text) => {
    let changed = text;
    for (const [from, to] of Object.entries(changes)) {
      if (!changed.includes(from)) continue;
      if (changed.indexOf(from) !== changed.lastIndexOf(from)) throw new Error(`"${from}" is there twice`);
      changed = changed.replace(from, () => to);
      left.delete(from);
    }
    return changed;
  });
  if (errors.length > 0) throw new Error(errors[0]!.message);
  if (left.size > 0) throw new Error(`not in the source: ${[...left].join(', ')}`);
  const labels = [...symbols].map(([name, value]) => `al ${value.toString(16).padStart(6, '0')} .${name}`).join('\n');
  return { image: image!, labels };
}

/** The scenario of a visit. */
export function prepareStreet(street: Street): PreparedScenario {
  const { path, delayMs, timing = '60hz', mothsAtMs } = street;
  const { lightPath } = document;
  const stages = [
    ...[delayMs - 500, Math.min(delayMs, 500)]
      .filter((ms) => ms > 0)
      .map((ms) => ({ kind: 'pure-delay', delayMs: ms })),
    ...(path.isBuffered ? [{ kind: 'frame-buffer' }] : []),
  ];
  const sensor = { ...lightPath.sensor, ...path.sensor };
  const optics = { ...lightPath.optics, ...path.optics };
  return prepareScenario(
    checkScenario({
      ...document,
      ...(isCalibrated(street.files) ? { calibration } : {}),
      timing,
      pads: [
        ...document.pads,
        ...(mothsAtMs === undefined ? [] : [{ port: 1, button: 'A', fromMs: mothsAtMs, toMs: mothsAtMs + 70 }]),
      ],
      lightPath: { ...lightPath, stages, panel: path.panel, sensor, optics, room: path.room ?? lightPath.room },
      pulls: street.pulls ?? [],
      shots: street.shots,
      ...(street.deadlineFrames === undefined ? {} : { deadlineFrames: street.deadlineFrames }),
      ...street.more,
    }),
    street.files,
  );
}

export const frameMs = (timing: TimingId): number => ticksToMs(TIMINGS[timing], ticksPerFrame(TIMINGS[timing]));
