import type { ModelSpec, Sourced } from '../../references/sourced.ts';
import { checkParameters } from '../parameters.ts';
import type { RoomModel } from './room.ts';

const lux = (value: number, source: string, kind: Sourced['kind'] = 'published'): Sourced => ({
  value,
  unit: 'lx',
  source,
  kind,
});
const reflectance = (value: number, source: string): Sourced => ({ value, unit: '', source, kind: 'common practice' });

const EVENING = lux(50, 'from memory: living room in the evening, 10 to 300 lx', 'common practice');
const DESK = lux(500, 'EN 12464-1:2011, office desk (as summarised)');
const WINDOW = lux(2000, 'CIBSE Code for Interior Lighting: indoors by a window, shaded, clear day');
const TUBE_GLASS = reflectance(0.1, 'from memory: tube glass 0.05 to 0.15');
const MATT_LCD = reflectance(0.02, 'from memory: matt flat panel 0.01 to 0.03');

const room = (illuminanceLux: Sourced, diffuseReflectance01: Sourced) => ({ illuminanceLux, diffuseReflectance01 });

const spec: ModelSpec = {
  kind: 'constant-light',
  title: 'steady room light',
  what: 'Adds the room light that the glass reflects, the same at all times.',
  parameters: [
    { name: 'illuminanceLux', title: 'light on the glass', unit: 'lx', min: 0, max: 100_000, standard: EVENING },
    { name: 'diffuseReflectance01', title: 'diffuse reflectance', unit: '', min: 0, max: 1, standard: TUBE_GLASS },
  ],
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

/**
 * Steady light: luminance = reflectance x illuminance / pi (a matt surface; Lambert's law, CIE e-ILV).
 * 500 lx on tube glass of 0.1 give 15.9 cd/m2.
 */
export const CONSTANT_LIGHT: RoomModel = {
  spec,
  create(values) {
    checkParameters(spec, values);
    return { luminanceCdM2: (values['diffuseReflectance01']! * values['illuminanceLux']!) / Math.PI };
  },
};
