import { LAMP_FLICKER, MAINS_50_HZ, MAINS_60_HZ } from '../../references/lamps.ts';
import type { ModelSpec, Preset, Sourced } from '../../references/sourced.ts';
import { checkParameters } from '../parameters.ts';
import { DESK, EVENING, MATT_LCD, REFLECTED_LIGHT_PARAMETERS, reflectedCdM2, TUBE_GLASS } from './reflected-light.ts';
import type { RoomModel } from './room.ts';

const PHASE: Sourced = { value: 0, unit: '', source: 'assumed: brightest at power-on', kind: 'assumed' };

const evening = (percentFlicker: Sourced, mainsHz: Sourced): Preset['values'] => ({
  illuminanceLux: EVENING,
  diffuseReflectance01: TUBE_GLASS,
  percentFlicker,
  mainsHz,
  phase01: PHASE,
});
const office = (percentFlicker: Sourced, mainsHz: Sourced): Preset['values'] => ({
  ...evening(percentFlicker, mainsHz),
  illuminanceLux: DESK,
  diffuseReflectance01: MATT_LCD,
});

const spec: ModelSpec = {
  kind: 'flickering-light',
  title: 'lamp on the mains',
  what: 'Adds the room light that the glass reflects, which goes up and down at twice the mains frequency.',
  parameters: [
    ...REFLECTED_LIGHT_PARAMETERS,
    {
      name: 'percentFlicker',
      title: 'percent flicker, (max - min) / (max + min)',
      unit: '%',
      min: 0,
      max: 100,
      standard: LAMP_FLICKER.incandescent,
    },
    { name: 'mainsHz', title: 'mains frequency', unit: 'Hz', min: 40, max: 70, standard: MAINS_60_HZ },
    {
      name: 'phase01',
      title: 'phase at power-on, share of a flicker period',
      unit: '',
      min: 0,
      max: 1,
      standard: PHASE,
    },
  ],
  presets: [
    {
      id: 'incandescent-60',
      title: 'evening, incandescent lamp, tube, 60 Hz mains',
      values: evening(LAMP_FLICKER.incandescent, MAINS_60_HZ),
    },
    {
      id: 'incandescent-50',
      title: 'evening, incandescent lamp, tube, 50 Hz mains',
      values: evening(LAMP_FLICKER.incandescent, MAINS_50_HZ),
    },
    {
      id: 'compact-magnetic-50',
      title: 'evening, compact fluorescent lamp with magnetic ballast, tube, 50 Hz mains',
      values: evening(LAMP_FLICKER.compactMagnetic, MAINS_50_HZ),
    },
    {
      id: 'compact-electronic-60',
      title: 'evening, compact fluorescent lamp with electronic ballast, tube, 60 Hz mains',
      values: evening(LAMP_FLICKER.compactElectronic, MAINS_60_HZ),
    },
    {
      id: 'fluorescent-60',
      title: 'office, fluorescent tubes with magnetic ballast, matt flat panel, 60 Hz mains',
      values: office(LAMP_FLICKER.fluorescent, MAINS_60_HZ),
    },
    {
      id: 'fluorescent-50',
      title: 'office, fluorescent tubes with magnetic ballast, matt flat panel, 50 Hz mains',
      values: office(LAMP_FLICKER.fluorescent, MAINS_50_HZ),
    },
    {
      id: 'led-typical-60',
      title: 'office, typical LED lamps, matt flat panel, 60 Hz mains',
      values: office(LAMP_FLICKER.ledTypical, MAINS_60_HZ),
    },
    {
      id: 'led-direct-50',
      title: 'office, LEDs straight on the mains, matt flat panel, 50 Hz mains',
      values: office(LAMP_FLICKER.ledDirect, MAINS_50_HZ),
    },
  ],
};

/**
 * Light of a lamp on the mains: luminance = mean x (1 + m cos(2 pi (2 mainsHz t + phase01))), t = time since power-on,
 * m = percent flicker / 100; the mean is that of a steady light of `illuminanceLux`.
 *
 * A model: real lamps have other waveforms too, and a few percent at the mains frequency itself. Because it runs from
 * power-on, not with the pictures, a light path with it is no pure shift (unless its flicker is 0).
 */
export const FLICKERING_LIGHT: RoomModel = {
  spec,
  create(values) {
    checkParameters(spec, values);
    const luminanceCdM2 = reflectedCdM2(values);
    const amplitudeCdM2 = (luminanceCdM2 * values['percentFlicker']!) / 100;
    if (amplitudeCdM2 === 0) return { luminanceCdM2 };
    const flicker = { frequencyHz: 2 * values['mainsHz']!, amplitudeCdM2, phase01: values['phase01']! };
    return { luminanceCdM2, flicker };
  },
};
