import { msToTicks, type Timing } from '../units/timing.ts';
import { BUTTON_NAMES, type Scenario, type ShotPlan } from './scenario.ts';

/** What is held and pulled in a run: the buttons of the pads, and the trigger's contact at every pull up to the shot. */
export class PullInputs {
  /** When the way of the light becomes that of the shot; 0 = it always is. */
  readonly lightChangesTick: number;
  readonly #pads: Scenario['pads'];
  readonly #timing: Timing;
  /** When the contact is closed: ascending, [from, to). */
  readonly #closures: readonly { readonly from: number; readonly to: number }[];

  /** The contact closes `earlierTicks` before the instant of the shot; without a plan there are only the pulls. */
  constructor(
    { pulls, pads }: Pick<Scenario, 'pulls' | 'pads'>,
    plan: ShotPlan | undefined,
    timing: Timing,
    lightChangesTick: number,
    earlierTicks = 0,
  ) {
    this.lightChangesTick = lightChangesTick;
    this.#pads = pads;
    this.#timing = timing;
    this.#closures = [...pulls, ...(plan === undefined ? [] : [plan])].map(({ atMs, squeezeMs }, i) => {
      const from = msToTicks(timing, atMs);
      return { from: i === pulls.length ? from - earlierTicks : from, to: from + msToTicks(timing, squeezeMs) };
    });
  }

  /** The first tick after `tick`, `endTick` at most, at which the contact moves or the way of the light changes. */
  constantUntil(tick: number, endTick: number): number {
    let limit = endTick;
    for (const { from, to } of this.#closures) {
      if (from > tick) limit = Math.min(limit, from);
      else if (to > tick) limit = Math.min(limit, to);
    }
    return this.lightChangesTick > tick ? Math.min(limit, this.lightChangesTick) : limit;
  }

  isTriggerClosed(tick: number): boolean {
    return this.#closures.some(({ from, to }) => tick >= from && tick < to);
  }

  buttons(port: 1 | 2, tick: number): number {
    return buttonsAt(this.#pads, port, tick, this.#timing);
  }
}

/** Buttons of a pad held at this tick, bit 0 = A as the pad sends them; presses are rounded to ticks like the trigger. */
function buttonsAt(pads: Scenario['pads'], port: 1 | 2, tick: number, timing: Timing): number {
  let held = 0;
  for (const press of pads) {
    const isHeld = tick >= msToTicks(timing, press.fromMs) && tick < msToTicks(timing, press.toMs);
    if (press.port === port && isHeld) held |= 1 << BUTTON_NAMES.indexOf(press.button);
  }
  return held;
}
