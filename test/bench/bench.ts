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
import { shotsPerSecond, sweepMemory, sweepRealtime, sweepScaling } from './sweep.ts';

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
  shotsPerSecond,
  sweepRealtime,
  sweepScaling,
  sweepMemory,
];

for (const measure of MEASURES) console.log(figureLine(await measure()));
