import { BEAM_TUBE } from './beam-tube.ts';
import { LCD } from './lcd.ts';
import type { PanelModel } from './panel.ts';

/** Every panel: one line each. */
export const PANELS: readonly PanelModel[] = [BEAM_TUBE, LCD];
