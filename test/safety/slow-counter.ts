/**
 * Counts flashes of a page slowly and by their definitions alone, to judge what is governed: every dot, every cell of 8 dots
 * and the field, of all pictures as if they lay in one view. Shares no code with what it judges.
 *
 * Source of figures: WCAG 2.2, term "general flash and red flash thresholds"; technique G176; WCAG 2.0 for the older red test.
 */

const [WIDTH, HEIGHT, CELL] = [256, 240, 8];
const DOTS = WIDTH * HEIGHT;
const CELLS = DOTS / CELL ** 2;
/** A quarter of 341 x 256 CSS pixels. */
const QUARTER_PX = 21_824;
const FAILING = 7;
const SLACK = 1e-9;

/** What the page shows from a time on: one picture beside another, 256 x 240 dots, 4 bytes each. */
export interface PageFrame {
  readonly timeS: number;
  readonly pictures: readonly Uint8ClampedArray[];
}

type Light = readonly [red: number, green: number, blue: number];
/** Whether going from one light to another is a change, and up or down; 0 = none. */
type Rule = (from: Light, to: Light) => -1 | 0 | 1;

const linear = (byte: number): number => {
  const c = byte / 255;
  return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
};
const LINEAR = Array.from({ length: 256 }, (_, byte) => linear(byte));
const luminance = ([r, g, b]: Light): number => 0.2126 * r + 0.7152 * g + 0.0722 * b;
const redShare = ([r, g, b]: Light): number => (r + g + b > 0 ? r / (r + g + b) : 0);
const olderRed = (light: Light): number =>
  redShare(light) >= 0.8 ? Math.max(0, (light[0] - light[1] - light[2]) * 320) : 0;

function chromaticity([r, g, b]: Light): readonly [number, number] {
  const x = 0.4124564 * r + 0.3575761 * g + 0.1804375 * b;
  const y = 0.2126729 * r + 0.7151522 * g + 0.072175 * b;
  const z = 0.0193339 * r + 0.119192 * g + 0.9503041 * b;
  const d = x + 15 * y + 3 * z;
  return d < 1e-6 ? [0.19784, 0.46834] : [(4 * x) / d, (9 * y) / d];
}

const general: Rule = (from, to) => {
  const [a, b] = [luminance(from), luminance(to)];
  if (Math.abs(a - b) < 0.1 - 1e-12 || Math.min(a, b) >= 0.8) return 0;
  return b > a ? 1 : -1;
};
const older: Rule = (from, to) => {
  const change = olderRed(to) - olderRed(from);
  return Math.abs(change) <= 20 ? 0 : change > 0 ? 1 : -1;
};
const newer: Rule = (from, to) => {
  const [isFrom, isTo] = [redShare(from) >= 0.8, redShare(to) >= 0.8];
  if (isFrom === isTo) return 0;
  const [a, b] = [chromaticity(from), chromaticity(to)];
  return Math.hypot(a[0] - b[0], a[1] - b[1]) > 0.2 ? (isTo ? 1 : -1) : 0;
};
const RULES = { general, 'older red': older, red: newer } as const;

/** The most opposing changes that can be picked from these, each from a picked one to a later one: by its definition. */
function mostChanges(lights: readonly Light[], rule: Rule): number {
  const up = lights.map(() => 0);
  const down = lights.map(() => 0);
  for (let k = 0; k < lights.length; k++)
    for (let i = 0; i < k; i++) {
      const change = rule(lights[i]!, lights[k]!);
      if (change > 0) up[k] = Math.max(up[k]!, down[i]! + 1);
      if (change < 0) down[k] = Math.max(down[k]!, up[i]! + 1);
    }
  return Math.max(0, ...up, ...down);
}

/** Places with one and the same history: how large all of them are, and their light frame by frame. */
interface History {
  readonly px: number;
  readonly lights: readonly Light[];
}

/** Rules by which some second of the frames has 7 opposing changes over a quarter of the view; `dotPx`: area of a dot. */
export function failuresOf(frames: readonly PageFrame[], dotPx: number): string[] {
  const changing = frames.filter(
    ({ pictures }, k) => k === 0 || pictures.some((picture, i) => picture !== frames[k - 1]!.pictures[i]),
  );
  const times = changing.map(({ timeS }) => timeS);
  const cells = cellLights(changing);
  const places = {
    dots: historiesOfDots(changing, dotPx),
    cells: alike(cells.map((lights): History => ({ px: dotPx * CELL ** 2, lights }))),
  };
  return Object.entries(RULES).flatMap(([name, rule]) => [
    ...Object.entries(places).flatMap(([way, histories]) =>
      isAbove(histories, times, rule) ? [`${name}, ${way}`] : [],
    ),
    ...Object.entries(places).flatMap(([way, histories]) =>
      isAboveInField(histories, times, rule) ? [`${name}, field of ${way}`] : [],
    ),
  ]);
}

/** Histories that are equal, as one. */
function alike(histories: readonly History[]): History[] {
  const found = new Map<string, History>();
  for (const { px, lights } of histories) {
    const key = lights.join();
    found.set(key, { px: px + (found.get(key)?.px ?? 0), lights });
  }
  return [...found.values()];
}

function isAbove(histories: readonly History[], times: readonly number[], rule: Rule): boolean {
  const px = times.map(() => 0);
  for (const history of histories) {
    for (const [end, endS] of times.entries()) {
      const first = times.findIndex((timeS) => endS - timeS <= 1 + SLACK);
      // From what was shown when the second began.
      const lights = history.lights.slice(Math.max(0, first - 1), end + 1);
      const steps = lights.filter((light, k) => k > 0 && light !== lights[k - 1]).length;
      if (steps >= FAILING && mostChanges(lights, rule) >= FAILING) px[end]! += history.px;
    }
  }
  return px.some((sum) => sum >= QUARTER_PX);
}

/** A cell's changes in turn, the first frame of each: extremes are followed one after the other. */
function changesOf(lights: readonly Light[], rule: Rule): (-1 | 0 | 1)[] {
  let [since, direction] = [0, 0];
  return lights.map((light, k) => {
    for (let i = since; i < k; i++) {
      const change = rule(lights[i]!, light);
      if (change === 0 || change === direction) continue;
      [since, direction] = [k, change];
      return change;
    }
    return 0;
  });
}

/** Changes at whichever place: both directions in one frame are two, the opposing one first. */
function isAboveInField(histories: readonly History[], times: readonly number[], rule: Rule): boolean {
  const up = times.map(() => 0);
  const down = times.map(() => 0);
  for (const { px, lights } of histories)
    for (const [k, change] of changesOf(lights, rule).entries()) {
      if (change > 0) up[k]! += px;
      if (change < 0) down[k]! += px;
    }
  let latest = 0;
  const kept: number[] = [];
  for (const [k, timeS] of times.entries()) {
    const due = [...(up[k]! >= QUARTER_PX ? [1] : []), ...(down[k]! >= QUARTER_PX ? [-1] : [])];
    if (due[0] === latest) due.reverse();
    for (const direction of due) {
      if (direction === latest) continue;
      latest = direction;
      kept.push(timeS);
    }
  }
  return kept.some((timeS, i) => i + 1 >= FAILING && timeS - kept[i + 1 - FAILING]! <= 1 + SLACK);
}

const lightOf = (rgb: number): Light => [LINEAR[(rgb >> 16) & 255]!, LINEAR[(rgb >> 8) & 255]!, LINEAR[rgb & 255]!];

/** Dots are put together frame by frame while they have the same colour. */
function historiesOfDots(frames: readonly PageFrame[], dotPx: number): History[] {
  const lights = new Map<number, Light>();
  const found: History[] = [];
  for (const i of frames[0]!.pictures.keys()) {
    let groupOf = new Uint32Array(DOTS);
    let groups: { readonly history: readonly Light[] }[] = [{ history: [] }];
    for (const { pictures } of frames) {
      const rgba = pictures[i]!;
      const next: typeof groups = [];
      const known = new Map<number, number>();
      const nextOf = new Uint32Array(DOTS);
      for (let dot = 0; dot < DOTS; dot++) {
        const rgb = rgba[4 * dot]! * 65_536 + rgba[4 * dot + 1]! * 256 + rgba[4 * dot + 2]!;
        const key = groupOf[dot]! * 2 ** 24 + rgb;
        let group = known.get(key);
        if (group === undefined) {
          const light = lights.get(rgb) ?? lightOf(rgb);
          lights.set(rgb, light);
          group = next.push({ history: [...groups[groupOf[dot]!]!.history, light] }) - 1;
          known.set(key, group);
        }
        nextOf[dot] = group;
      }
      [groups, groupOf] = [next, nextOf];
    }
    const sizes = groups.map(() => 0);
    for (const group of groupOf) sizes[group]!++;
    for (const [group, { history }] of groups.entries()) found.push({ px: sizes[group]! * dotPx, lights: history });
  }
  return found;
}

/** Mean linear light of every cell of every picture, frame by frame; the same object while it stays. */
function cellLights(frames: readonly PageFrame[]): Light[][] {
  return [...frames[0]!.pictures.keys()].flatMap((i) => {
    const cells = Array.from({ length: CELLS }, (): Light[] => []);
    for (const [k, { pictures }] of frames.entries()) {
      const isSame = k > 0 && pictures[i] === frames[k - 1]!.pictures[i];
      for (const [cell, lights] of cells.entries()) {
        const before = lights[k - 1];
        const light = isSame ? before! : meanOf(pictures[i]!, cell);
        lights.push(before?.every((value, c) => value === light[c]) === true ? before : light);
      }
    }
    return cells;
  });
}

function meanOf(rgba: Uint8ClampedArray, cell: number): Light {
  const sums = [0, 0, 0] as [number, number, number];
  const perRow = WIDTH / CELL;
  for (let y = 0; y < CELL; y++)
    for (let x = 0; x < CELL; x++) {
      const dot = (Math.floor(cell / perRow) * CELL + y) * WIDTH + (cell % perRow) * CELL + x;
      for (let c = 0; c < 3; c++) sums[c]! += LINEAR[rgba[4 * dot + c]!]! / CELL ** 2;
    }
  return sums;
}
