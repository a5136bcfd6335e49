import { expose } from 'comlink';
import { createSweepService } from './sweep-service.ts';

expose(createSweepService());
