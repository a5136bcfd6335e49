import { createSweepService } from './sweep-service.ts';

export const service = createSweepService();
