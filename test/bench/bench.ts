import { figureLine } from './figure.ts';
import { processorAgainstSim65 } from './processor.ts';
import { loopRealtime, referenceRealtime } from './reference.ts';

for (const measure of [referenceRealtime, loopRealtime, processorAgainstSim65]) console.log(figureLine(measure()));
