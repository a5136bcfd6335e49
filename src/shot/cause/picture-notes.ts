import type { RasterState } from '../../console/raster/raster-state.ts';
import type { SpotWeights } from '../../light/optics/optics.ts';
import type { Picture, PictureHistory, TargetRectangle } from '../../picture/picture.ts';
import { weightedLight } from '../../references/palette.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH, ticksPerLine } from '../../units/timing.ts';
import { meanLight } from '../flash.ts';
import type { PreparedScenario } from '../prepared-scenario.ts';
import { type Aim, boxOf } from '../truth.ts';
import { type DroppedSprites, droppedSprites } from './dropped-sprites.ts';
import type { Stepwise } from './stepwise.ts';

/** What is kept of a picture that the console has put out during the shot. */
export interface PictureNote {
  readonly index: number;
  readonly lineZeroTick: number;
  readonly targets: readonly TargetRectangle[];
  /** Mean light of the whole picture, looked at on a lattice; light of white = 1. */
  readonly pictureLight: number;
  /** Mean light of the spot, and of each target where the program has it; light of white = 1. */
  readonly spotLight: number;
  readonly targetLight: readonly number[];
  /** Mean light of the dots of each target's box, where the program has it. */
  readonly boxLight: readonly number[];
  readonly dropped: DroppedSprites;
}

/** A run that can be stopped at the end of each picture. */
export interface PictureRun {
  readonly history: PictureHistory;
  readonly tick: number;
  readonly deadlineTick: number;
  readonly isAnswered: boolean;
  runUntil(tick: number): void;
  /** The raster unit as it stands; changes nothing. */
  saveRaster(): RasterState;
}

/** Where the sensor looks, and what it makes of colours. */
export interface Sight {
  readonly aim: Aim;
  readonly spot: SpotWeights;
  readonly spectralWeights: readonly [red: number, green: number, blue: number];
}

/** Scanlines above and below the aim in which sprites are counted: a box of 32 dots and its spot. Our choice. */
const NEAR_LINES = 40;
/** Dots and scanlines of the lattice: a sprite of 8 by 8 has four points of it, wherever it stands. */
const LATTICE = 4;
/** Scanlines that a run goes on where no picture is complete: shorter than the vertical blank. */
const BLANK_LINES = 4;

/** Runs a shot picture by picture to what the program says or to the deadline, and notes each picture when it is complete. */
export class PictureNotes {
  readonly pictures: PictureNote[] = [];
  readonly #prepared: PreparedScenario;
  readonly #sight: Sight;
  readonly #light: Float64Array;

  constructor(prepared: PreparedScenario, sight: Sight) {
    this.#prepared = prepared;
    this.#sight = sight;
    this.#light = weightedLight(prepared.timing.swapsRedGreenEmphasis, sight.spectralWeights);
  }

  *follow(run: PictureRun): Stepwise<void> {
    const line = ticksPerLine(this.#prepared.timing);
    while (!run.isAnswered && run.tick < run.deadlineTick) {
      const { history, tick, deadlineTick } = run;
      const picture = history.get(history.newest);
      const end = picture === undefined ? tick : picture.lineZeroTick + PICTURE_HEIGHT * line;
      if (end <= tick) run.runUntil(Math.min(tick + BLANK_LINES * line, deadlineTick));
      else {
        run.runUntil(Math.min(end, deadlineTick));
        if (run.tick >= end) this.#note(run);
        yield;
      }
    }
  }

  #note(run: PictureRun): void {
    const raster = run.saveRaster();
    const picture = run.history.get(run.history.newest);
    if (picture === undefined || picture.index === this.pictures[this.pictures.length - 1]?.index) return;
    const { targets, index, lineZeroTick } = picture;
    const { scenario, image } = this.#prepared;
    const isNear = (y: number): boolean => Math.abs(y - this.#sight.aim.y) <= NEAR_LINES;
    this.pictures.push({
      index,
      lineZeroTick,
      targets,
      pictureLight: this.#pictureLight(picture),
      spotLight: this.#spotLight(picture),
      targetLight: targets.map((target) => meanLight(picture, target, this.#light)),
      boxLight: targets.map((target) => meanLight(picture, boxOf(target, scenario.targets.marginDots), this.#light)),
      dropped: droppedSprites(raster, image.pattern, isNear),
    });
  }

  #pictureLight({ codes }: Picture): number {
    let sum = 0;
    for (let y = 0; y < PICTURE_HEIGHT; y += LATTICE)
      for (let x = 0; x < PICTURE_WIDTH; x += LATTICE) sum += this.#light[codes[y * PICTURE_WIDTH + x]!]!;
    return (sum * LATTICE * LATTICE) / (PICTURE_WIDTH * PICTURE_HEIGHT);
  }

  #spotLight({ codes }: Picture): number {
    const { firstRow, rowCount, firstDot, dotCount, weight } = this.#sight.spot;
    let sum = 0;
    for (let row = 0; row < rowCount; row++) {
      for (let dot = 0; dot < dotCount; dot++) {
        const code = codes[(firstRow + row) * PICTURE_WIDTH + firstDot + dot]!;
        sum += weight[row * dotCount + dot]! * this.#light[code]!;
      }
    }
    return sum;
  }
}
