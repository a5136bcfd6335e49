import { expect, test } from 'vitest';
import { axisSteps, moved, msAt, pixelsOf, zoomed } from './time-scale.ts';

const WHOLE = { fromMs: -20, toMs: 180 };

test('the moment under the pointer stays there when zooming', () => {
  const span = zoomed(WHOLE, 0.5, 40, WHOLE);
  expect(span.toMs - span.fromMs).toBe(100);
  expect(pixelsOf(40, span, 800)).toBeCloseTo(pixelsOf(40, WHOLE, 800), 9);
  expect(msAt(pixelsOf(40, span, 800), span, 800)).toBeCloseTo(40, 9);
});

test('zooming and moving stay within what there is', () => {
  expect(zoomed({ fromMs: 0, toMs: 50 }, 100, 10, WHOLE)).toEqual(WHOLE);
  expect(moved({ fromMs: 0, toMs: 50 }, -500, WHOLE)).toEqual({ fromMs: -20, toMs: 30 });
  expect(moved({ fromMs: 0, toMs: 50 }, 500, WHOLE)).toEqual({ fromMs: 130, toMs: 180 });
  const closest = zoomed({ fromMs: 0, toMs: 1 }, 0.001, 0.5, WHOLE);
  expect(closest.toMs - closest.fromMs).toBeCloseTo(0.01, 12);
});

test('the axis has round steps', () => {
  expect(axisSteps(WHOLE, 10)).toEqual([-20, 0, 20, 40, 60, 80, 100, 120, 140, 160, 180]);
  expect(axisSteps({ fromMs: 0.2, toMs: 1.3 }, 5).map((ms) => ms.toFixed(2))).toEqual(['0.50', '1.00']);
});
