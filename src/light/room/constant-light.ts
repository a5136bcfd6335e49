import type { ModelSpec, Sourced } from '../../references/sourced.ts';
import { checkParameters } from '../parameters.ts';
import {
  DESK,
  EVENING,
  lux,
  MATT_LCD,
  REFLECTED_LIGHT_PARAMETERS,
  reflectedCdM2,
  TUBE_GLASS,
} from './reflected-light.ts';
import type { RoomModel } from './room.ts';

const WINDOW = lux(2000, 'CIBSE Code for Interior Lighting: indoors by a window, shaded, clear day');

const room = (illuminanceLux: Sourced, diffuseReflectance01: Sourced) => ({ illuminanceLux, diffuseReflectance01 });

const spec: ModelSpec = {
  kind: 'constant-light',
  title: 'steady room light',
  what: 'Adds the room light that the glass reflects, the same at all times.',
  parameters: REFLECTED_LIGHT_PARAMETERS,
  presets: [
    {
      id: 'dark-tube',
      title: 'dark room, tube',
      values: room(lux(1, 'from memory: home cinema, dark, 0.1 to 5 lx', 'common practice'), TUBE_GLASS),
    },
    { id: 'evening-tube', title: 'evening, tube', values: room(EVENING, TUBE_GLASS) },
    { id: 'office-tube', title: 'office, tube', values: room(DESK, TUBE_GLASS) },
    { id: 'evening-lcd', title: 'evening, matt flat panel', values: room(EVENING, MATT_LCD) },
    { id: 'office-lcd', title: 'office, matt flat panel', values: room(DESK, MATT_LCD) },
    { id: 'window-lcd', title: 'by the window, matt flat panel', values: room(WINDOW, MATT_LCD) },
  ],
};

/** Steady light that the glass reflects. */
export const CONSTANT_LIGHT: RoomModel = {
  spec,
  create(values) {
    checkParameters(spec, values);
    return { luminanceCdM2: reflectedCdM2(values) };
  },
};
