import { transfer } from 'comlink';
import type { FlashCheckService } from './flash-check.api.ts';
import { createFlashCheckService } from './flash-check.service.ts';

const local = createFlashCheckService();

export const service: FlashCheckService = {
  check: (request) => {
    const answer = local.check(request);
    if ('refused' in answer) return answer;
    return transfer(
      answer,
      answer.findings.flatMap(({ pictures }) => pictures.map(({ rgba }) => rgba.buffer)),
    );
  },
};
