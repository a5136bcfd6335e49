import { assembleVsCa65 } from './assembler.ts';
import { figureLine } from './figure.ts';
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
];

for (const measure of MEASURES) console.log(figureLine(measure()));
