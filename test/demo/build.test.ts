import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { describeWith } from '../needs.ts';

describeWith(['ca65', 'ld65'], 'the demo programs', () => {
  test.each(['first-light', 'lamplighter', 'three-lanterns'])(
    '%s: ca65 and ld65 make the images and labels that are checked in',
    (folder) => {
      const out = mkdtempSync(join(tmpdir(), 'latelight-demo-'));
      try {
        execFileSync('homebrew-demo/build.sh', [folder, out], { stdio: 'pipe' });
        const files = readdirSync(out);
        expect(files).toEqual(readdirSync(`homebrew-demo/${folder}`).filter((file) => /\.(bin|lbl)$/.test(file)));
        for (const file of files) {
          expect(readFileSync(join(out, file)).equals(readFileSync(`homebrew-demo/${folder}/${file}`)), file).toBe(
            true,
          );
        }
      } finally {
        rmSync(out, { recursive: true, force: true });
      }
    },
  );
});
