import { msToTicks, type Timing } from '../units/timing.ts';
import { BUTTON_NAMES, type Scenario } from './scenario.ts';

/** Buttons of a pad held at this tick, bit 0 = A as the pad sends them; presses are rounded to ticks like the trigger. */
export function buttonsAt(pads: Scenario['pads'], port: 1 | 2, tick: number, timing: Timing): number {
  let held = 0;
  for (const press of pads) {
    const isHeld = tick >= msToTicks(timing, press.fromMs) && tick < msToTicks(timing, press.toMs);
    if (press.port === port && isHeld) held |= 1 << BUTTON_NAMES.indexOf(press.button);
  }
  return held;
}
