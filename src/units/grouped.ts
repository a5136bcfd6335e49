/** A whole number for reading, its digits in groups of three with a thin space between. */
export const grouped = (value: number): string => String(value).replace(/\B(?=(\d{3})+$)/g, '\u2009');
