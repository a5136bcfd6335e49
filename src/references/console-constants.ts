/**
 * Numbers of the raster unit that published pages give as a range, or not at all. Units: dots.
 *
 * A write's latency counts from the dot that holds the write's tick: a latency of n means that the n-th dot after it is
 * the first to see the new value. 0 and 1 give the same picture, since a write is carried out after its own dot.
 */

/**
 * Pixel x of a line leaves the video pin at dot x + this, although it is composed at dot x + 1.
 * Range 1..4. Source: hardware documentation wiki, "PPU rendering" (first pixel put out in dot 4); the page "NTSC video"
 * has it at dot 1 in its present form and at dot 4 in its first.
 */
export const PIXEL_OUT_DELAY_DOTS = 4;

/** PPUMASK bits 4..1 (layers and left column). Source: hardware documentation wiki, "PPU registers": 3 to 4 dots. */
export const RENDERING_BITS_LATENCY_DOTS = 3;

/** PPUMASK bits 7..5 and 0 (emphasis and grey): about 1 to 2 dots; from memory. */
export const COLOUR_BITS_LATENCY_DOTS = 2;

/** From the second PPUADDR write until v = t: about 3 dots; from memory. */
export const ADDRESS_LATENCY_DOTS = 3;

/** From the dot that composes the hitting pixel x (dot x + 1) to the flag (dot x + 2); wiki, "PPU rendering". */
export const SPRITE_ZERO_HIT_LATENCY_DOTS = 1;

/**
 * Dot of the pre-render line at whose end the rendering bits decide whether an odd frame is short; 0..339.
 * Source: hardware documentation wiki, "PPU frame timing" gives the skipped dot, not the sampling dot: assumed to be
 * the last one before the skip.
 */
export const ODD_SKIP_SAMPLE_DOT = 339;
