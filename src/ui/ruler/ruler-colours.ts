import type { RulerColours } from './ruler-view.ts';

/** The page's colours as they stand now; a page without one has that of the text. */
export function rulerColours(element: Element): RulerColours {
  const style = getComputedStyle(element);
  const of = (name: string): string => style.getPropertyValue(`--${name}`).trim() || style.color;
  const border = of('border');
  return {
    sheet: of('sheet'),
    ink: of('ink'),
    secondary: of('secondary'),
    light: of('light'),
    aim: of('aim'),
    sensor: of('sensor'),
    wrong: of('wrong'),
    right: of('right'),
    border,
    hatch: style.getPropertyValue('--hatch').trim() || border,
  };
}
