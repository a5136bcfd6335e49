import {
  brightSky,
  closeTargets,
  farFromTheMark,
  shortFlash,
  slivers,
  tooLittleLight,
  wanderingHand,
  withoutRewind,
} from './conditions.ts';
import { LCDS, TUBE } from './light-paths.ts';
import { range } from './shot-count.ts';

const measures: Readonly<Record<string, () => unknown>> = {
  farFromTheMark,
  tooLittleLight,
  shortFlash: () => ({
    elsewhere: shortFlash([1.2, 4.6, 6.1, 9.3, 11.4, 15.2]),
    'upper lamp': shortFlash(range(13.02, 13.42, 0.05)),
    'lower lamp': shortFlash(range(2.32, 2.77, 0.05)),
    'mark and middle lamp': shortFlash(range(7.67, 8.12, 0.05)),
  }),
  brightSky,
  closeTargets: () => ({
    '14 dots': closeTargets(14),
    '40 dots': closeTargets(40),
    '19 dots, LCD': closeTargets(19, undefined, 0.1),
    '22 dots, LCD': closeTargets(22, undefined, 0.1),
    '19 dots, tube': closeTargets(19, TUBE, 0.1),
    '21 dots, tube': closeTargets(21, TUBE, 0.1),
    '22 dots, tube': closeTargets(22, TUBE, 0.1),
    '26 dots, tube': closeTargets(26, TUBE, 0.1),
  }),
  withoutRewind: () => withoutRewind(),
  wanderingHand: () => wanderingHand(),
  slivers: () => ({ tube: slivers(TUBE), lcd: slivers(LCDS[0]!) }),
};
const asked = process.argv.slice(2);
const names = asked.length === 0 ? Object.keys(measures) : asked;
console.log(JSON.stringify(Object.fromEntries(names.map((name) => [name, measures[name]!()]))));
