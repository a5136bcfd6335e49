import { expect, test } from 'vitest';
import { FIRST_STATE } from '../../src/ui/bench/bench-state.ts';
import { LightDesk } from '../../src/ui/bench/light-desk.ts';
import {
  specsFor,
  standardSetting,
  withoutStage,
  withStage,
  withStageMoved,
  withValue,
} from '../../src/ui/bench/light-edits.ts';
import { DraftEvent } from '../../src/ui/bench/station-form.ts';

const FIRST = FIRST_STATE.lightPath;
const PLACE = { part: 'stages', index: 0 } as const;

test('what is typed into one field is one step, an undo ends it, and drafts go with it', () => {
  const changes: number[] = [];
  const host = { requestUpdate: () => {} } as never;
  const desk: LightDesk = new LightDesk(host, FIRST, () => changes.push(desk.path.stages.length));
  const late = withStage(FIRST, 0, standardSetting(specsFor('stages')[0]!));
  desk.edit(late, 'order');
  for (const delayMs of [5, 50]) desk.edit(withValue(desk.path, PLACE, 'delayMs', delayMs), 'stages.0.delayMs');
  expect(desk.path.stages[0]).toMatchObject({ delayMs: 50 });
  desk.endStep();
  desk.edit(withValue(desk.path, PLACE, 'delayMs', 60), 'stages.0.delayMs');
  desk.undo();
  expect(desk.path.stages[0]).toMatchObject({ delayMs: 50 });
  desk.keepDraft(new DraftEvent('stages.0.delayMs', '50x'));
  expect(desk.drafts).toEqual({ 'stages.0.delayMs': '50x' });
  desk.undo();
  expect([desk.path, desk.drafts]).toEqual([late, {}]);
  desk.redo();
  expect(desk.path.stages[0]).toMatchObject({ delayMs: 50 });
  desk.undo();
  desk.undo();
  expect([desk.path, desk.canUndo, desk.canRedo]).toEqual([FIRST, false, true]);
  expect(changes).toEqual([1, 1, 1, 1, 1, 1, 1, 1, 0]);
});

test('what is typed goes along with its stage when stages are added, moved or taken out', () => {
  const desk = new LightDesk({ requestUpdate: () => {} } as never, FIRST, () => {});
  const [spec] = specsFor('stages');
  const withOne = withStage(FIRST, 0, { ...standardSetting(spec!), delayMs: 5 });
  desk.edit(withStage(withOne, 1, { ...standardSetting(spec!), delayMs: 7 }), '');
  desk.keepDraft(new DraftEvent('stages.0.delayMs', '777'));
  desk.keepDraft(new DraftEvent('panel.0.whiteCdM2', 'x'));
  const drafts = (index?: number) => ({
    ...(index === undefined ? {} : { [`stages.${index}.delayMs`]: '777' }),
    'panel.0.whiteCdM2': 'x',
  });
  desk.edit(withStage(desk.path, 0, standardSetting(spec!)), '');
  expect(desk.drafts).toEqual(drafts(1));
  desk.edit(withValue(desk.path, { part: 'stages', index: 2 }, 'delayMs', 9), 'stages.2.delayMs');
  expect(desk.drafts).toEqual(drafts(1));
  desk.edit(withStageMoved(desk.path, 1, 2), '');
  expect(desk.drafts).toEqual(drafts(2));
  desk.edit(withoutStage(desk.path, 0), '');
  expect(desk.drafts).toEqual(drafts(1));
  desk.edit(withoutStage(desk.path, 1), '');
  expect(desk.drafts).toEqual(drafts());
});
