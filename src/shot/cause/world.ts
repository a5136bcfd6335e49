import type { CartridgeImage } from '../../program/image.ts';
import type { Timing } from '../../units/timing.ts';
import type { Scenario } from '../scenario.ts';
import type { Aim, Truth } from '../truth.ts';
import type { Retouch } from './retouched-history.ts';

/** A byte that stands in the program's memory, or in its image from $8000 on. */
export interface Poke {
  readonly address: number;
  readonly value: number;
}

/** The world in which a shot is run once more: that of the first run with something changed. Plain data. */
export interface World {
  /** Ports, hand, sensors and stages are taken from here. */
  readonly scenario: Scenario;
  readonly image: CartridgeImage;
  readonly timing: Timing;
  /** The run must go on from a moment so many ticks before the trigger, or from before the first pull. */
  readonly startsTicksBefore: number;
  readonly startsAtPulls: boolean;
  /** The path of the light is made anew at the moment, because its settings, its pictures or its aim have changed. */
  readonly isLightNew: boolean;
  /** The wand points elsewhere by so many dots, from the time on at which it points where the shot aims. */
  readonly offset: Aim;
  readonly isHandStill: boolean;
  /** A read answers lit if the bit was lit at any time since the read before. */
  readonly isGapFree: boolean;
  readonly isInverted: boolean;
  /** The light sensor answers on both ports, beside the pads that are plugged in. */
  readonly isOnBothPorts: boolean;
  readonly retouch: Retouch;
  /** The trigger's contact closes so many ticks earlier. */
  readonly closesEarlierTicks: number;
  /** Bit 7 of PPUCTRL is set again before every vblank. */
  readonly keepsNmi: boolean;
  readonly pokes: readonly Poke[];
  /** What the program should have said. */
  readonly truth: Truth;
}
