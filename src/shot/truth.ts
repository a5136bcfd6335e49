import { spotShare } from '../light/optics/index.ts';
import type { TargetRectangle } from '../picture/picture.ts';

/** What the aim was on, by what the glass showed at the trigger. */
export type Truth =
  | { readonly kind: 'target'; readonly target: number; readonly shares: readonly number[] }
  | { readonly kind: 'nothing'; readonly shares: readonly number[] }
  /** Neither: the spot lies on a border. Counted apart, in no rate. */
  | { readonly kind: 'edge'; readonly shares: readonly number[] };

export interface Rectangle {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface Aim {
  readonly x: number;
  readonly y: number;
}

export interface TruthLimits {
  readonly hitShare: number;
  readonly nothingShare: number;
}

/**
 * Truth of one shot.
 *
 * The share of target k is the part of the spot's weight on the target grown by the margin; 0 for a target that is not
 * live. It is target k if the aim lies in target k, its share is at least `hitShare` and no other share is above
 * `nothingShare`; nothing if no share is above `nothingShare`; an edge otherwise. Of several targets that the aim lies in,
 * the one with the larger share wins, the first of equal ones, and the others do not make it an edge.
 */
export function findTruth(
  aim: Aim,
  spotRadiusDots: number,
  targets: readonly TargetRectangle[],
  marginDots: number,
  limits: TruthLimits,
): Truth {
  const shares = targets.map((target) =>
    target.isLive ? spotShare(aim, spotRadiusDots, grown(target, marginDots)) : 0,
  );
  if (shares.every((share) => share <= limits.nothingShare)) return { kind: 'nothing', shares };
  let best = -1;
  for (let k = 0; k < targets.length; k++) {
    const isOn = targets[k]!.isLive && contains(targets[k]!, aim);
    if (isOn && (best < 0 || shares[k]! > shares[best]!)) best = k;
  }
  const isClear = best >= 0 && shares[best]! >= limits.hitShare;
  const others = shares.filter((share, k) => !contains(targets[k]!, aim) && share > limits.nothingShare);
  return isClear && others.length === 0 ? { kind: 'target', target: best, shares } : { kind: 'edge', shares };
}

const contains = (target: TargetRectangle, { x, y }: Aim): boolean =>
  x >= target.x && x < target.x + target.width && y >= target.y && y < target.y + target.height;

/** The target that a shot is about: the truth's, else the one with the largest share; -1 = none. */
export function aimedTargetOf(truth: Truth): number {
  if (truth.kind === 'target') return truth.target;
  const largest = Math.max(0, ...truth.shares);
  return largest > 0 ? truth.shares.indexOf(largest) : -1;
}

export const centreOf = ({ x, y, width, height }: Rectangle): Aim => ({ x: x + width / 2, y: y + height / 2 });

/** The rectangle with `margin` dots more on every side. */
export const grown = ({ x, y, width, height }: Rectangle, margin: number): Rectangle => ({
  x: x - margin,
  y: y - margin,
  width: width + 2 * margin,
  height: height + 2 * margin,
});

/** Where the flash of a target stands. */
export const boxOf = ({ x, y, width, height, box }: TargetRectangle, margin: number): Rectangle =>
  box === undefined
    ? grown({ x, y, width, height }, margin)
    : { x: box.x, y: box.y, width: width + 2 * margin, height: height + 2 * margin };
