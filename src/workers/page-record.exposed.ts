import { PageFlashRecorder } from './flash-check.recorder.ts';
import type { PageRecordService } from './page-record.api.ts';

export const service: PageRecordService = new PageFlashRecorder();
