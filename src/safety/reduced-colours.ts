/** How pictures are drawn so that none of them can flash: dark greys, or faint ones over a veil. */
export type ReducedLook = 'dimmed' | 'veiled';

/** Encoded level of white. Our choice: 87 of 255, relative luminance 0.0953, less than the tenth that counts. */
const DIM = 0.34;
/** Share of the picture over a grey of this encoded level. Our choice: the picture's white is 0.0957 above its black. */
const VEIL = { share: 0.22, grey: 0.2 } as const;

/**
 * Colours for the reduced rendering: greys that lie less than a tenth of white apart, so that no picture drawn in them makes
 * a general or a red flash, whatever the pictures and their order are.
 *
 * Shape: `[code * 3 + primary]`, sRGB, in and out. Method: as a page's filters `grayscale(1) brightness(0.34)` do on encoded values.
 * Source of the weights: W3C, Filter Effects Module Level 1, grayscale.
 */
export function reducedBytes(bytes: Uint8Array, look: ReducedLook): Uint8Array {
  const reduced = new Uint8Array(bytes.length);
  for (let at = 0; at < bytes.length; at += 3) {
    const grey = 0.2126 * bytes[at]! + 0.7152 * bytes[at + 1]! + 0.0722 * bytes[at + 2]!;
    const drawn = look === 'dimmed' ? DIM * grey : VEIL.share * grey + (1 - VEIL.share) * VEIL.grey * 255;
    reduced.fill(Math.round(drawn), at, at + 3);
  }
  return reduced;
}
