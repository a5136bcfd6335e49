import { PHOSPHORS } from '../../references/phosphor.ts';
import type { ModelSpec, Sourced } from '../../references/sourced.ts';

const white = (value: number, kind: Sourced['kind'], source: string): Sourced => ({
  value,
  unit: 'cd/m2',
  source,
  kind,
});
const phosphor = (number: number): Sourced => ({
  value: number,
  unit: '',
  source: PHOSPHORS[number - 1]!.source,
  kind: number === 1 ? 'measured' : 'common practice',
});
const STUDIO = white(100, 'common practice', 'from memory: studio practice 80 to 100 cd/m2');

/** What forms and schemas need to know of the tube. */
export const BEAM_TUBE_SPEC: ModelSpec = {
  kind: 'beam-tube',
  title: 'picture tube',
  what: 'Excites the phosphors dot by dot as the signal comes; each dot is an impulse that fades.',
  parameters: [
    {
      name: 'whiteCdM2',
      title: 'mean luminance of a white field',
      unit: 'cd/m2',
      min: 1,
      max: 2000,
      standard: STUDIO,
    },
    {
      name: 'phosphor',
      title: `phosphor (${PHOSPHORS.map(({ title }, i) => `${i + 1}: ${title}`).join('; ')})`,
      unit: '',
      min: 1,
      max: PHOSPHORS.length,
      isInteger: true,
      standard: phosphor(1),
    },
  ],
  presets: [
    { id: 'studio-tube', title: 'studio monitor', values: { whiteCdM2: STUDIO, phosphor: phosphor(1) } },
    {
      id: 'home-tube',
      title: 'television, 20 to 27 inches',
      values: {
        whiteCdM2: white(120, 'common practice', 'from memory: 60 to 250 cd/m2, typically 120'),
        phosphor: phosphor(1),
      },
    },
    {
      id: 'simple-tube',
      title: 'studio monitor with one exponential a primary',
      values: { whiteCdM2: STUDIO, phosphor: phosphor(2) },
    },
  ],
};
