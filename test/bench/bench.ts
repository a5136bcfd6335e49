import { assembleVsCa65 } from './assembler.ts';
import { figureLine } from './figure.ts';
import { flashCheckRealtime } from './flash-check.ts';
import { processorAgainstSim65 } from './processor.ts';
import {
  aimLinesRealtime,
  consoleRealtime,
  lightShare,
  loopRealtime,
  referenceRealtime,
  stateCopy,
} from './reference.ts';

const MEASURES = [
  processorAgainstSim65,
  consoleRealtime,
  loopRealtime,
  aimLinesRealtime,
  lightShare,
  stateCopy,
  referenceRealtime,
  assembleVsCa65,
  flashCheckRealtime,
];

for (const measure of MEASURES) console.log(figureLine(measure()));
