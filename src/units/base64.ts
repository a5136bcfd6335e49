const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';
const VALUE_OF = new Map([...LETTERS].map((letter, value) => [letter, value]));

/** Bytes as base64 text with padding (RFC 4648, section 4); the core has neither Buffer nor btoa. */
export function toBase64(bytes: Uint8Array): string {
  const pieces: string[] = [];
  for (let i = 0; i < bytes.length; i += 3) {
    const left = bytes.length - i;
    const group = (bytes[i]! << 16) | ((bytes[i + 1] ?? 0) << 8) | (bytes[i + 2] ?? 0);
    const letters = [18, 12, 6, 0].map((shift) => LETTERS[(group >> shift) & 63]!);
    pieces.push(letters[0]! + letters[1]! + (left > 1 ? letters[2]! : '=') + (left > 2 ? letters[3]! : '='));
  }
  return pieces.join('');
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
