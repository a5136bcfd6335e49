import type { WorstFlash } from '../safety/flash-analyser.ts';
import type { SceneVerdict, StreamVerdict } from '../safety/flash-watch.ts';

/** Scenes kept of a stream whose sizes change; the oldest that pass are forgotten. Our choice. */
const MOST_SCENES = 64;

/** Verdicts of two stretches of one stream, profile by profile: whatever was worse. */
export function joinedVerdicts<Picture>(
  past: readonly StreamVerdict<Picture>[],
  present: readonly StreamVerdict<Picture>[],
): StreamVerdict<Picture>[] {
  if (past.length === 0) return [...present];
  if (present.length === 0) return [...past];
  return present.map((now, i) => joined(past[i]!, now));
}

function joined<Picture>(past: StreamVerdict<Picture>, now: StreamVerdict<Picture>): StreamVerdict<Picture> {
  const isNowWorse = mostOf(now.worst) > mostOf(past.worst);
  return {
    profile: now.profile,
    frames: past.frames + now.frames,
    passes: past.passes && now.passes,
    worst: worse(past.worst, now.worst),
    scenes: shortened([...scenesUntil(past.scenes, now.scenes[0]?.fromS), ...now.scenes]),
    // The present goes on from the past.
    load: now.load.length > 0 ? now.load : past.load,
    worstSecond: isNowWorse ? now.worstSecond : (past.worstSecond ?? now.worstSecond),
  };
}

/** Scenes up to where the present begins, which counts the last second of the past again; what fails stays where it was. */
function scenesUntil(scenes: readonly SceneVerdict[], endS = Number.POSITIVE_INFINITY): SceneVerdict[] {
  return scenes.flatMap((scene) => {
    const cut = { ...scene, toS: Math.min(scene.toS, endS) };
    if (cut.fromS < cut.toS) return [cut];
    return scene.passes ? [] : [scene];
  });
}

/** By kind and way of counting; small pictures are not counted dot by dot. */
function worse(past: readonly WorstFlash[], now: readonly WorstFlash[]): WorstFlash[] {
  const found = new Map<string, WorstFlash>();
  for (const one of [...past, ...now]) {
    const key = `${one.kind} ${one.counting}`;
    if (one.changes > (found.get(key)?.changes ?? -1)) found.set(key, one);
  }
  return [...found.values()];
}

const mostOf = (worst: readonly WorstFlash[]): number => Math.max(0, ...worst.map(({ changes }) => changes));

function shortened<Scene extends { readonly passes: boolean }>(scenes: readonly Scene[]): Scene[] {
  const surplus = scenes.length - MOST_SCENES;
  if (surplus <= 0) return [...scenes];
  let dropped = 0;
  const kept = scenes.filter(({ passes }) => !passes || ++dropped > surplus);
  return kept.slice(-MOST_SCENES);
}
