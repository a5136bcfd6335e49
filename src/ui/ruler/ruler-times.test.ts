import { expect, test } from 'vitest';
import { RULER_MARKS, rulerLanes } from '../../../test/page/ruler-lanes.ts';
import { RulerModel } from './ruler-model.ts';
import { joinedTimes, rulerTimes } from './ruler-times.ts';

const lanes = rulerLanes(800, 400);
const times = rulerTimes(lanes, RULER_MARKS);

test('the shot lies within the lanes, with half a frame before it and more behind', () => {
  const { whole, shot } = times;
  expect(whole).toEqual({ fromMs: lanes.fromMs, toMs: lanes.toMs });
  const frameMs = (lanes.toMs - lanes.fromMs) / 12;
  expect(shot.fromMs).toBeCloseTo(-0.5 * frameMs, 9);
  expect(shot.toMs).toBeCloseTo(90 + 1.5 * frameMs, 9);
});

test('two shots are seen on one time: all of both', () => {
  const other = { whole: { fromMs: -5, toMs: 400 }, shot: { fromMs: -4, toMs: 300 } };
  const joined = joinedTimes(times, other);
  expect(joined).toEqual({
    whole: { fromMs: lanes.fromMs, toMs: 400 },
    shot: { fromMs: times.shot.fromMs, toMs: 300 },
  });
  const model = new RulerModel(lanes, RULER_MARKS, joined);
  model.do('show all');
  expect(model.span).toEqual(joined.whole);
  model.do('end');
  expect(model.cursorMs).toBe(400);
  model.do('back to the shot');
  expect(model.span).toEqual(joined.shot);
});

test('behind its own lanes a ruler asks for no closer look, at their end for what there is', () => {
  const model = new RulerModel(lanes, RULER_MARKS, joinedTimes(times, { ...times, whole: { fromMs: 0, toMs: 400 } }));
  model.width = 700;
  model.show({ fromMs: 300, toMs: 301 });
  expect(model.wantedDetail(undefined)).toBe(undefined);
  model.show({ fromMs: lanes.toMs - 0.5, toMs: lanes.toMs + 0.5 });
  const wanted = model.wantedDetail(undefined)!;
  expect(wanted.toMs).toBe(lanes.toMs);
  const columns = new Float32Array(2 * wanted.columns);
  const detail = { ...wanted, light: columns, sensor: columns, threshold: new Float32Array(wanted.columns) };
  expect(model.wantedDetail(detail)).toBe(undefined); // what came covers all that is known of what is seen
});

test('what one ruler looks at another takes over', () => {
  const [one, other] = [new RulerModel(lanes, RULER_MARKS), new RulerModel(lanes, RULER_MARKS)];
  one.do('hold');
  one.do('measure');
  one.do('next frame');
  one.do('zoom in');
  other.look = one.look;
  expect(other.look).toEqual(one.look);
  expect(other.secondMs).toBe(0);
});
