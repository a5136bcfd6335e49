const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';
/** Two letters for each value of 12 bits. */
const PAIRS = Array.from({ length: 4096 }, (_, value) => LETTERS[value >> 6]! + LETTERS[value & 63]!);
const VALUE_OF = new Map([...LETTERS].map((letter, value) => [letter, value]));

/** Bytes as base64 text with padding (RFC 4648, section 4); the core has neither Buffer nor btoa. */
export function toBase64(bytes: Uint8Array): string {
  let text = '';
  const whole = bytes.length - (bytes.length % 3);
  for (let i = 0; i < whole; i += 3) {
    text += PAIRS[(bytes[i]! << 4) | (bytes[i + 1]! >> 4)]! + PAIRS[((bytes[i + 1]! & 15) << 8) | bytes[i + 2]!]!;
  }
  if (bytes.length - whole === 1) text += `${PAIRS[bytes[whole]! << 4]}==`;
  if (bytes.length - whole === 2)
    text += `${PAIRS[(bytes[whole]! << 4) | (bytes[whole + 1]! >> 4)]}${LETTERS[(bytes[whole + 1]! & 15) << 2]}=`;
  return text;
}

/** The bytes of a base64 text; undefined when it is not one, unused bits that are not zero included. */
export function fromBase64(text: string): Uint8Array | undefined {
  if (text.length % 4 !== 0) return undefined;
  const padding = text.endsWith('==') ? 2 : text.endsWith('=') ? 1 : 0;
  const bytes = new Uint8Array((text.length / 4) * 3 - padding);
  for (let i = 0, at = 0; i < text.length; i += 4) {
    const isLast = i + 4 === text.length;
    let group = 0;
    for (let k = 0; k < 4; k++) {
      const isPadding = isLast && k >= 4 - padding;
      const value = isPadding ? 0 : VALUE_OF.get(text[i + k]!);
      if (value === undefined) return undefined;
      group = (group << 6) | value;
    }
    const count = isLast ? 3 - padding : 3;
    if (count < 3 && (group & (count === 1 ? 0xffff : 0xff)) !== 0) return undefined;
    for (let k = 0; k < count; k++) bytes[at++] = (group >> (16 - 8 * k)) & 0xff;
  }
  return bytes;
}
