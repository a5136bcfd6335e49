/** Which published limits the frames are held against. */
export interface FlashProfile {
  readonly id: string;
  readonly title: string;
  /** Edition of the text that the limits are from. */
  readonly source: string;
  /** Least change of relative luminance that counts. */
  readonly leastChange: number;
  /** A change counts only if its darker side is below this. */
  readonly darkLimit: number;
  /** Above `darkLimit` a change counts from this Michelson contrast on; Infinity = never. */
  readonly leastContrast: number;
  readonly redTests: readonly RedTest[];
  /** The part of the field of view that is looked at, CSS pixels; null = the whole raster as it is shown. */
  readonly block: { readonly width: number; readonly height: number } | null;
  /** Share of the block that has to flash at once. */
  readonly leastShare: number;
  /** `leastShare` itself is still allowed. */
  readonly isShareStrict: boolean;
  /** Changes that take longer do not count, s. */
  readonly longestChangeS: number;
  /** Changes of the same direction add their areas if they are no farther apart than this, s. */
  readonly togetherS: number;
  /** A balanced pattern of squares smaller than this is no flash, CSS pixels; 0 = there is no such exception. */
  readonly finePx: number;
}

export type RedTest = 'older red' | 'red' | 'saturated red';

/** This many opposing changes within a second fail: more than three flashes. Source: WCAG 2.2 technique G19. */
export const FAILING_CHANGES = 7;

/** 0.1 degree where 341 pixels are 10. Source: WCAG 2.2, term "general flash and red flash thresholds", exception; G176. */
const FINE_PX = 341 / 100;

const SECOND_WCAG = 'W3C, WCAG 2.2 (12/2024), SC 2.3.1, and technique G176';

const WCAG_A: FlashProfile = {
  id: 'wcag-a',
  title: 'three flashes or below threshold',
  source: SECOND_WCAG,
  leastChange: 0.1,
  darkLimit: 0.8,
  leastContrast: Number.POSITIVE_INFINITY,
  redTests: ['older red', 'red'],
  block: { width: 341, height: 256 },
  leastShare: 0.25,
  isShareStrict: false,
  longestChangeS: Number.POSITIVE_INFINITY,
  togetherS: 0,
  finePx: FINE_PX,
};

export const FLASH_PROFILES: readonly FlashProfile[] = [
  WCAG_A,
  {
    ...WCAG_A,
    id: 'wcag-aaa',
    title: 'three flashes, whatever their size',
    source: 'W3C, WCAG 2.2 (12/2024), SC 2.3.2; the least change is our choice, the text has none',
    leastChange: 0.02,
    darkLimit: Number.POSITIVE_INFINITY,
    leastShare: 0,
    isShareStrict: true,
    // The exception belongs to the thresholds, which this criterion does not have.
    finePx: 0,
  },
  {
    ...WCAG_A,
    id: 'tv-1702',
    title: 'television, white at 200 cd/m2',
    source: 'ITU-R BT.1702-3 (11/2023), second hand',
    redTests: ['saturated red'],
    block: null,
    isShareStrict: true,
    // What was read of it has no exception for fine patterns. That leading edges 334 ms (60 Hz) or 360 ms (50 Hz) apart are
    // allowed asks nothing more: of 7 opposing changes within a second 4 go one way, less than 334 ms apart on average.
    finePx: 0,
  },
  {
    ...WCAG_A,
    id: 'trace-24',
    title: 'proposed guidelines of 2024',
    source: 'Trace RERC proposed guidelines (2024); working values',
    leastContrast: 1 / 17,
    redTests: ['red'],
    block: { width: 416, height: 416 },
    longestChangeS: 0.066,
    togetherS: 0.02,
    // The working values name no such exception.
    finePx: 0,
  },
];

/** Whether a share of the block is as large as the profile asks for. */
export const isLarge = (share: number, { leastShare, isShareStrict }: FlashProfile): boolean =>
  isShareStrict ? share > leastShare : share >= leastShare;

/** The television profile for a screen whose white has another luminance, cd/m2: 20 and 160 cd/m2 are other shares of it. */
export function televisionProfile(whiteCdM2: number): FlashProfile {
  const profile = FLASH_PROFILES.find(({ id }) => id === 'tv-1702')!;
  return {
    ...profile,
    title: `television, white at ${whiteCdM2} cd/m2`,
    leastChange: 20 / whiteCdM2,
    darkLimit: 160 / whiteCdM2,
  };
}
