import type { BlockArea } from './block-area.ts';
import { type FlashProfile, isLarge } from './flash-profile.ts';
import { PlaceCounts } from './place-counts.ts';
import { WINDOW_S } from './recent-changes.ts';

const SLACK = 1e-9;
const DIRECTIONS = [1, -1] as const;

/** Places that changed in one direction. */
export interface ChangedArea {
  /** Their share of the block if all of them were in one. */
  readonly most: number;
  /** Their share of the block at each of its positions. */
  at(): Float64Array;
}

/** What of a frame changed up and down. */
export interface FieldChanges {
  readonly up: ChangedArea;
  readonly down: ChangedArea;
}

/** The worst that was found over the field. */
export interface FieldFound {
  readonly changes: number;
  readonly frame: number;
  readonly timeS: number;
  readonly position: number;
  readonly share: number;
}

const NOTHING: FieldFound = { changes: 0, frame: 0, timeS: 0, position: 0, share: 0 };

/** Positions at which a change was kept, one entry a change. */
interface Kept {
  readonly timeS: number;
  readonly positions: Int32Array;
}

/** A frame whose changes may count together with later ones. */
interface Pending {
  readonly timeS: number;
  readonly areas: readonly [up: ChangedArea, down: ChangedArea];
}

/**
 * Opposing changes over the field: at a position of the block, changes anywhere in it that fill the share that the profile
 * names, up and down in turn. Both directions in one frame are two, first the one that opposes the latest. What is told of one
 * time, as of several pictures, is one frame.
 */
export class FieldCount {
  readonly #profile: FlashProfile;
  /** Direction of the latest change kept at each position; 0 before the first. */
  readonly #direction: Int8Array;
  /** Changes kept at each position within the second. */
  #counts: PlaceCounts;
  #kept: Kept[] = [];
  /** Scratch: positions at which a frame is kept, twice where it is kept both ways. */
  readonly #keptAt: Int32Array;
  /** Time of the latest frame that was kept at any position, and what stood before it. */
  #keptS = Number.NEGATIVE_INFINITY;
  #before = new Int8Array(0);
  #changedBefore: readonly [Float64Array, Float64Array] = [new Float64Array(0), new Float64Array(0)];
  /** Frames whose changes count together with those of the next one, and when a position had its last change, up and down. */
  #pending: Pending[] = [];
  readonly #changedS: readonly [Float64Array, Float64Array];
  #worst = NOTHING;
  /** The same since it was taken last. */
  #latest = NOTHING;

  constructor(positions: number, profile: FlashProfile) {
    this.#profile = profile;
    this.#direction = new Int8Array(positions);
    this.#counts = new PlaceCounts(positions);
    this.#keptAt = new Int32Array(2 * positions);
    const times = profile.togetherS > 0 ? positions : 0;
    this.#changedS = [0, 1].map(() => new Float64Array(times).fill(Number.NEGATIVE_INFINITY)) as [
      Float64Array,
      Float64Array,
    ];
  }

  /** The changes of a frame, shown from `timeS` on. */
  count({ up, down }: FieldChanges, frame: number, timeS: number): void {
    this.#forget(timeS);
    if (timeS === this.#keptS) this.#takeBack();
    const areas = [up, down] as const;
    const shares = [0, 1].map((side) => this.#sharesOf(areas[side]!, side, timeS));
    if (shares.some((share) => share !== undefined)) this.#keep(shares, frame, timeS);
    if (up.most + down.most > 0) this.#pending.push({ timeS, areas });
    if (this.#latest.changes > this.#worst.changes) this.#worst = this.#latest;
  }

  /** Time has gone on. */
  #forget(timeS: number): void {
    while (this.#kept.length > 0 && timeS - this.#kept[0]!.timeS > WINDOW_S + SLACK)
      this.#counts.moveAll(this.#kept.shift()!.positions, -1);
    this.#pending = this.#pending.filter((frame) => timeS - frame.timeS <= this.#profile.togetherS + SLACK);
  }

  /** Share by position of what changed, with what counts together with it; undefined where it is too little everywhere. */
  #sharesOf(area: ChangedArea, side: number, nowS: number): Float64Array | undefined {
    const changed = this.#pending.filter(({ areas }) => areas[side]!.most > 0);
    const hasChangedNow = area.most > 0 || changed.some(({ timeS }) => timeS === nowS);
    const before = hasChangedNow ? changed : [];
    const most = before.reduce((sum, { areas }) => sum + areas[side]!.most, area.most);
    if (!isLarge(most, this.#profile)) return undefined;
    if (before.length === 0) return area.at();
    const shares = area.most > 0 ? area.at().slice() : new Float64Array(this.#direction.length);
    for (const { timeS, areas } of before) {
      const earlier = areas[side]!.at();
      const changedS = timeS === nowS ? undefined : this.#changedS[side]!;
      // What made a change at a position in an earlier frame has been counted there.
      for (let position = 0; position < shares.length; position++)
        if (changedS === undefined || timeS > changedS[position]!) shares[position]! += earlier[position]!;
    }
    return shares;
  }

  #keep(shares: readonly (Float64Array | undefined)[], frame: number, timeS: number): void {
    this.#before = this.#direction.slice();
    this.#changedBefore = [this.#changedS[0].slice(), this.#changedS[1].slice()];
    this.#keptS = timeS;
    const profile = this.#profile;
    const direction = this.#direction;
    const kept = this.#keptAt;
    let count = 0;
    for (let position = 0; position < direction.length; position++) {
      const isUp = isLargeAt(shares[0], position, profile);
      const isDown = isLargeAt(shares[1], position, profile);
      if (!isUp && !isDown) continue;
      const first = direction[position] === 1 ? 1 : 0;
      for (let k = 0; k < 2; k++) {
        const side = k === 0 ? first : 1 - first;
        if (side === 0 ? !isUp : !isDown) continue;
        if (profile.togetherS > 0) this.#changedS[side]![position] = timeS;
        if (direction[position] === DIRECTIONS[side]) continue;
        direction[position] = DIRECTIONS[side]!;
        kept[count++] = position;
        this.#found(this.#counts.move(position, 1), frame, timeS, position, shares[side]![position]!);
      }
    }
    if (count > 0) this.#kept.push({ timeS, positions: kept.slice(0, count) });
  }

  /** Of the places that reach a count with the same frame, the one where most of the block flashes. */
  #found(changes: number, frame: number, timeS: number, position: number, share: number): void {
    const latest = this.#latest;
    if (changes < latest.changes) return;
    if (changes === latest.changes && (frame !== latest.frame || share <= latest.share)) return;
    this.#latest = { changes, frame, timeS, position, share };
  }

  /** More is told of the latest frame: it is judged anew, by its sum. */
  #takeBack(): void {
    this.#direction.set(this.#before);
    for (const side of [0, 1] as const) this.#changedS[side].set(this.#changedBefore[side]);
    const latest = this.#kept[this.#kept.length - 1];
    if (latest?.timeS !== this.#keptS) return;
    this.#kept.pop();
    this.#counts.moveAll(latest.positions, -1);
  }

  /** The largest count within the second that ends now. */
  now(timeS: number): number {
    this.#forget(timeS);
    return this.#counts.most;
  }

  get worst(): FieldFound {
    return this.#worst;
  }

  /** The worst of the seconds that ended since this was asked last. */
  takeWorst(): FieldFound {
    const taken = this.#latest;
    this.#latest = NOTHING;
    return taken;
  }

  /** A copy that goes on by itself. */
  copy(): FieldCount {
    const copy = new FieldCount(this.#direction.length, this.#profile);
    copy.#direction.set(this.#direction);
    copy.#counts = this.#counts.copy();
    copy.#kept = [...this.#kept];
    copy.#keptS = this.#keptS;
    copy.#before = this.#before;
    copy.#changedBefore = this.#changedBefore;
    copy.#pending = [...this.#pending];
    for (const side of [0, 1]) copy.#changedS[side]!.set(this.#changedS[side]!);
    copy.#worst = this.#worst;
    copy.#latest = this.#latest;
    return copy;
  }
}

const isLargeAt = (shares: Float64Array | undefined, position: number, profile: FlashProfile): boolean =>
  shares !== undefined && isLarge(shares[position]!, profile);

/** Changes of cells of a block's grid, each of which is of a part: looked at where they may fill enough of it. */
export function changedArea(area: BlockArea, cells: Int32Array, parts?: Float64Array): ChangedArea {
  let shares: Float64Array | undefined;
  const marked = parts === undefined ? cells.length : parts.reduce((sum, part) => sum + part, 0);
  return {
    most: area.shareOf(marked),
    at: () => {
      if (shares === undefined) {
        area.markSome(cells, parts);
        shares = area.shares();
      }
      return shares;
    },
  };
}
