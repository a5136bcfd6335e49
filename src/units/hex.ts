/** A number as processors' manuals write it: $0F, $C000. */
export const hex = (value: number, digits: number): string =>
  `$${value.toString(16).toUpperCase().padStart(digits, '0')}`;
