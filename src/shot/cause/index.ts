import type { Intervention } from './intervention.ts';
import { AIM_AT_CENTRE } from './interventions/aim-at-centre.ts';
import { ALL_SPRITES } from './interventions/all-sprites.ts';
import { BOX_WHERE_SHOWN } from './interventions/box-where-shown.ts';
import { DARK_BEFORE } from './interventions/dark-before.ts';
import { DARK_ROOM } from './interventions/dark-room.ts';
import { GAP_FREE } from './interventions/gap-free.ts';
import { HALF_THRESHOLD } from './interventions/half-threshold.ts';
import { IDEAL_PANEL } from './interventions/ideal-panel.ts';
import { IDEAL_SENSOR } from './interventions/ideal-sensor.ts';
import { NO_JAM } from './interventions/jam.ts';
import { KEEP_NMI } from './interventions/keep-nmi.ts';
import { NMI_IN_TIME } from './interventions/nmi-in-time.ts';
import { NO_DELAY } from './interventions/no-delay.ts';
import { PICTURE_IN_TIME } from './interventions/picture-in-time.ts';
import { PICTURE_LATER } from './interventions/picture-later.ts';
import { RIGHT_POLARITY } from './interventions/right-polarity.ts';
import { RIGHT_PORT } from './interventions/right-port.ts';
import { SENSOR_AS_CALIBRATED } from './interventions/sensor-as-calibrated.ts';
import { STILL_HAND } from './interventions/still-hand.ts';
import { TRIGGER_AT_ONCE } from './interventions/trigger-at-once.ts';
import { TRUE_DELAY } from './interventions/true-delay.ts';

/** Everything that may be put right, specific before broad: of several that cure, the first is the sentence. */
export const INTERVENTIONS: readonly Intervention[] = [
  NO_JAM,
  KEEP_NMI,
  NMI_IN_TIME,
  RIGHT_PORT,
  RIGHT_POLARITY,
  TRIGGER_AT_ONCE,
  ALL_SPRITES,
  GAP_FREE,
  AIM_AT_CENTRE,
  BOX_WHERE_SHOWN,
  STILL_HAND,
  SENSOR_AS_CALIBRATED,
  TRUE_DELAY,
  DARK_BEFORE,
  DARK_ROOM,
  HALF_THRESHOLD,
  NO_DELAY,
  PICTURE_LATER,
  IDEAL_PANEL,
  IDEAL_SENSOR,
  PICTURE_IN_TIME,
];
