import { BUTTON_NAMES, type Scenario } from './scenario.ts';

/** Buttons of a pad held at this instant, bit 0 = A as the pad sends them. Units: ms since power-on. */
export function buttonsAt(pads: Scenario['pads'], port: 1 | 2, ms: number): number {
  let held = 0;
  for (const press of pads) {
    if (press.port === port && ms >= press.fromMs && ms < press.toMs) held |= 1 << BUTTON_NAMES.indexOf(press.button);
  }
  return held;
}
