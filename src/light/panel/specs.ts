import type { ModelSpec } from '../../references/sourced.ts';
import { BEAM_TUBE_SPEC } from './beam-tube-spec.ts';
import { LCD_SPEC } from './lcd-spec.ts';

/** Of every panel, in the order of `PANELS`: what a form needs, without the panels themselves. */
export const PANEL_SPECS: readonly ModelSpec[] = [BEAM_TUBE_SPEC, LCD_SPEC];
