import type { LightPathSettings } from '../shot/light-path-settings.ts';
import type { Refusal } from './refusal.ts';

/** A program to hold against the limits, as the page has it. */
export interface FlashCheckRequest {
  readonly image: Uint8Array;
  /** Undefined: the scenario names no labels. */
  readonly labels: string | undefined;
  /** The scenario whose pads, pulls and shots are played, as JSON text. */
  readonly scenario: string;
  /** In place of the scenario's own. */
  readonly lightPath?: LightPathSettings;
  /** How long it is watched from power-on, s; 2 s after the last shot when not given. */
  readonly seconds?: number;
  /** CSS pixels from line to line at which somebody will see it. */
  readonly scale: number;
  /** Ids of profiles. */
  readonly profiles: readonly string[];
}

/** A count against its limit. */
export interface FlashCount {
  /** Kind of flash and way of counting, in words. */
  readonly rule: string;
  /** Opposing changes within a second. */
  readonly changes: number;
  readonly limit: number;
  readonly isAbove: boolean;
  readonly timeS: number;
  readonly where: string;
  readonly areaPercent: string;
}

export interface FlashScene {
  readonly fromS: number;
  readonly toS: number;
  readonly passes: boolean;
  /** Null where nothing changes. */
  readonly worst: FlashCount | null;
}

/** A picture of the worst second, to be shown still. */
export interface FlashPicture {
  readonly timeS: number;
  readonly width: number;
  readonly height: number;
  /** 4 bytes a dot. */
  readonly rgba: Uint8ClampedArray<ArrayBuffer>;
}

/** One stream against one profile. */
export interface FlashFinding {
  readonly profile: string;
  readonly title: string;
  /** Edition of the text that the limits are from. */
  readonly source: string;
  readonly passes: boolean;
  readonly counts: readonly FlashCount[];
  readonly scenes: readonly FlashScene[];
  readonly pictures: readonly FlashPicture[];
  /** Pictures of the worst second that are left out. */
  readonly left: number;
}

/** What one stream of pictures was found to do. */
export interface FlashStream {
  /** What was watched: "The game", "This page". */
  readonly stream: string;
  /** How long and at which size, in words. */
  readonly watched: string;
  readonly findings: readonly FlashFinding[];
  /** What calls for care though it passes. */
  readonly care: readonly string[];
  readonly advice: readonly string[];
}

export interface FlashCheckService {
  check(request: FlashCheckRequest): FlashStream | Refusal;
}
