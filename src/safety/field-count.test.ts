import { expect, test } from 'vitest';
import { hashNoise } from '../units/noise.ts';
import { type ChangedArea, FieldCount } from './field-count.ts';
import { FLASH_PROFILES } from './flash-profile.ts';

const PROFILE = FLASH_PROFILES.find(({ id }) => id === 'wcag-a')!;
/** Changes within 20 ms count together. */
const TOGETHER = FLASH_PROFILES.find(({ id }) => id === 'trace-24')!;
const area = (share: number): ChangedArea => ({ most: share, at: () => Float64Array.of(share) });

test.each([PROFILE, TOGETHER])(
  '$id: what is told of one time in parts has the count that it has at once',
  (profile) => {
    for (let seed = 0; seed < 2000; seed++) {
      const draw = (frame: number, k: number) => Math.floor(4 * hashNoise(seed, frame, k)) / 8;
      const [whole, inParts] = [new FieldCount(1, profile), new FieldCount(1, profile)];
      for (let frame = 0; frame < 12; frame++) {
        const timeS = frame / (profile === TOGETHER ? 100 : 60);
        const [up, up2, down, down2] = [0, 1, 2, 3].map((k) => draw(frame, k)) as [number, number, number, number];
        whole.count({ up: area(up + up2), down: area(down + down2) }, frame, timeS);
        inParts.count({ up: area(up), down: area(down) }, frame, timeS);
        inParts.count({ up: area(up2), down: area(down2) }, frame, timeS);
        expect(inParts.now(timeS)).toBe(whole.now(timeS));
      }
    }
  },
);

test('of the places that reach a count with one frame the one is told where most flashes', () => {
  const count = new FieldCount(3, PROFILE);
  const shares = (values: readonly number[]): ChangedArea => ({ most: 1, at: () => Float64Array.from(values) });
  count.count({ up: shares([0.25, 1, 0.5]), down: area(0) }, 0, 0);
  expect(count.worst).toMatchObject({ changes: 1, position: 1, share: 1 });
  count.count({ up: area(0), down: shares([0.3, 0.3, 0.4]) }, 1, 0.1);
  expect(count.worst).toMatchObject({ changes: 2, position: 2, share: 0.4, frame: 1 });
});
