import { figureLine } from './figure.ts';
import { processorAgainstSim65 } from './processor.ts';
import { referenceRealtime } from './reference.ts';

for (const measure of [referenceRealtime, processorAgainstSim65]) console.log(figureLine(measure()));
