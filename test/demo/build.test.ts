import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { describeWith } from '../needs.ts';

describeWith('ca65', 'the demo programs', () => {
  test.each(['first-light'])('%s: ca65 and ld65 make the image and labels that are checked in', (name) => {
    const out = mkdtempSync(join(tmpdir(), 'latelight-demo-'));
    try {
      execFileSync('homebrew-demo/build.sh', [name, out], { stdio: 'pipe' });
      for (const file of [`${name}.bin`, `${name}.lbl`]) {
        expect(readFileSync(join(out, file)).equals(readFileSync(`homebrew-demo/${name}/${file}`)), file).toBe(true);
      }
    } finally {
      rmSync(out, { recursive: true, force: true });
    }
  });
});
