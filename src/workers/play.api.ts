import type { Change } from '../shot/cause/intervention.ts';
import type { LightPathSettings } from '../shot/light-path-settings.ts';
import type { LanesDetail, ShotLanes } from '../shot/shot-lanes.ts';
import type { WireTraces } from '../shot/station-traces.ts';
import type { Refusal } from './refusal.ts';

export type { Change } from '../shot/cause/intervention.ts';
export type { LightPathSettings } from '../shot/light-path-settings.ts';
export { msOfTick, nextFrameMs, nextScanlineMs, placeAt, type ShotClock, tickOfMs } from '../shot/shot-clock.ts';
export type { LanesDetail, ShotLanes, Stretch } from '../shot/shot-lanes.ts';
export type { WireTraces } from '../shot/station-traces.ts';

/** What the page lets somebody play. */
export interface PlayRequest {
  readonly image: Uint8Array;
  /** Undefined: the scenario names no labels. */
  readonly labels: string | undefined;
  /** The scenario to start from, as JSON text; its light path is not used, its shots and pulls only by a rehearsal. */
  readonly scenario: string;
  readonly lightPath: LightPathSettings;
  readonly aim: PlayAim;
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
  /** What the page shows: it may not have drawn all that it was answered. */
  readonly onScreen: PicturesOnScreen;
  /** When the page draws, ms. */
  readonly timeMs: number;
}

/**
 * Outline: flashes are left out and their boxes drawn as outlines. Reduced: every picture, in greys that cannot flash. Full:
 * every picture as it is, small.
 */
export type Rendering = 'outline' | 'reduced' | 'full';

/** What became of a pull, as text. */
export interface PlayOutcome {
  readonly judgement: string;
  readonly isRight: boolean;
  readonly text: string;
  /** The part of the text that tells what the light did; null where nothing was judged. */
  readonly account: string | null;
  /** Where the wand pointed at the trigger; null where nothing was judged. */
  readonly aim: PlayAim | null;
  /** By this number it can be looked at closer; null where nothing was judged. */
  readonly replay: number | null;
  /** What the time ruler draws; null where nothing was judged. */
  readonly lanes: ShotLanes | null;
  readonly marks: readonly ShotMark[];
  /** What each station before the panel does to the flash; null where nothing was judged. */
  readonly wires: WireTraces | null;
}

/** Why a shot was wrong, shown by running it again. */
export type WhyWrong =
  /** `isPair`: the two causes need each other; else each of them alone makes the shot right. */
  | { readonly kind: 'proved'; readonly causes: readonly ProvedCause[]; readonly isPair: boolean }
  /** What was put right one by one and in pairs, in words, and did not help. */
  | { readonly kind: 'not proved'; readonly tried: readonly string[] }
  /** The shot cannot be run again; why, and what to do, as text. */
  | { readonly kind: 'not explained'; readonly text: string }
  | { readonly kind: 'right' };

export interface ProvedCause {
  readonly sentence: string;
  readonly cure: string;
  readonly changes: readonly Change[];
}

/** A shot at the practice street, played from power-on by a rehearsal. */
export interface RehearsedShot {
  readonly outcome: PlayOutcome;
  readonly spotRadiusDots: number;
}

/** An instant of a shot, ms after the trigger. */
export interface ShotMark {
  readonly name: string;
  readonly title: string;
  readonly ms: number;
}

/** Numbers of the pictures on the page; null: none of these. */
export interface PicturesOnScreen {
  readonly sent: number | null;
  readonly shown: number | null;
}

/** A picture to draw. */
export interface DrawnPicture {
  /** 256 x 240 dots, RGBA, 4 bytes each; null = what is drawn stays. */
  readonly dots: Uint8ClampedArray<ArrayBuffer> | null;
  /** Counts the pictures drawn in one place; null with the dots. */
  readonly number: number | null;
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

/** An instant of the latest shot. */
export interface StillFrame {
  readonly sent: DrawnPicture;
  readonly shown: DrawnPicture;
  /** Where the console stood; null before the first picture that is kept. */
  readonly frame: number | null;
  readonly scanline: number | null;
  readonly dot: number | null;
  /** A picture was not drawn because it would have flashed: ask for the same instant again, 0.1 s later. */
  readonly isHeldBack: boolean;
}

export interface PlayStart {
  readonly framesPerSecond: number;
  readonly spotRadiusDots: number;
}

export interface PlayService {
  start(request: PlayRequest): PlayStart | Refusal;
  /** The console goes on; what the glass shows goes another way from now on. */
  changeLightPath(lightPath: LightPathSettings): PlayStart | Refusal;
  advance(input: PlayInput): PlayFrame | Refusal;
  /** When the scenario could shoot, if it had no shots of its own. */
  firstLive(request: PlayRequest): { readonly atMs: number } | Refusal;
  /** Play the scenario's shot at the aim, from power-on, without a picture being drawn. */
  rehearse(request: PlayRequest): RehearsedShot | Refusal;
  /** A part of the light, finer: of the latest shot, or of the one that has this number while it can be looked at. */
  detail(fromMs: number, toMs: number, columns: number, replay?: number): LanesDetail | Refusal;
  /** Shots can be looked at closer until some more are made; this one until another is kept. null: none. */
  keep(replay: number | null): void;
  /** Both pictures of the latest shot as they stood at a time after its trigger, drawn so that no scrubbing flashes. */
  still(ms: number, timeMs: number): StillFrame | Refusal;
  /**
   * Why the latest shot was wrong; play goes on meanwhile. null before the first, where nothing was judged, and where the next
   * shot came before the answer.
   */
  explain(): Promise<WhyWrong | null | Refusal>;
}
