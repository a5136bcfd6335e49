import type { ShotLanes } from '../shot/shot-lanes.ts';
import type { Refusal } from './refusal.ts';

export type { ShotLanes } from '../shot/shot-lanes.ts';

/** What the page lets somebody play. */
export interface PlayRequest {
  readonly image: Uint8Array;
  readonly labels: string;
  /** The scenario to start from, as JSON text; its shots and pulls are not used. */
  readonly scenario: string;
  readonly lightPath: LightChoice;
  readonly aim: PlayAim;
}

/** The light path as the page chooses it; the rest is that of the scenario. */
export interface LightChoice {
  readonly panel: string;
  readonly sensor: string;
  /** Whole delay of the picture before the panel, ms. */
  readonly delayMs: number;
}

/** Dots and scanlines. */
export interface PlayAim {
  readonly x: number;
  readonly y: number;
}

/** What somebody does before the next frames. */
export interface PlayInput {
  readonly aim: PlayAim;
  readonly pulls: boolean;
  /** Buttons of pad 1, bit 0 = A, then B Select Start Up Down Left Right. */
  readonly buttons: number;
  readonly frames: number;
  readonly rendering: Rendering;
  /** When the page draws, ms. */
  readonly timeMs: number;
}

/** Outline: flashes are left out and their boxes drawn as outlines. Full: every picture as it is, small. */
export type Rendering = 'outline' | 'full';

/** What became of a pull, as text. */
export interface PlayOutcome {
  readonly judgement: string;
  readonly isRight: boolean;
  readonly text: string;
  /** What the time ruler draws; null where nothing was judged. */
  readonly lanes: ShotLanes | null;
  readonly marks: readonly ShotMark[];
}

/** An instant of a shot, ms after the trigger. */
export interface ShotMark {
  readonly name: string;
  readonly title: string;
  readonly ms: number;
}

/** A picture to draw. */
export interface DrawnPicture {
  /** 256 x 240 dots, RGBA, 4 bytes each; null = what is drawn stays. */
  readonly dots: Uint8ClampedArray<ArrayBuffer> | null;
  /** Boxes that flash now, dots. */
  readonly outlines: readonly PlayBox[];
}

export interface PlayBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface PlayFrame {
  /** The picture that the glass shows, and that which the console sends; null before there is one. */
  readonly shown: DrawnPicture | null;
  readonly sent: DrawnPicture | null;
  readonly outcomes: readonly PlayOutcome[];
}

export interface PlayStart {
  readonly framesPerSecond: number;
  readonly spotRadiusDots: number;
}

export interface PlayService {
  start(request: PlayRequest): PlayStart | Refusal;
  /** The console goes on; what the glass shows goes another way from now on. */
  changeLightPath(choice: LightChoice): PlayStart | Refusal;
  advance(input: PlayInput): PlayFrame | Refusal;
}
