import { expose } from 'comlink';
import type { ShotService } from './shot.api.ts';
import { shootFirstLight } from './shot-service.ts';

const service: ShotService = { shoot: shootFirstLight };
expose(service);
