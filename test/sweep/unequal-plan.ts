/** Cells of very unequal length: shots from a shared start, and shots from power-on because lamp or backlight run free. */
export const UNEQUAL_PLAN = {
  sweep: 1,
  title: 'First Light, cells of unequal length',
  scenario: 'tube.json',
  n: 4,
  seed: 7,
  delays: [7.9],
  panels: { tube: { kind: 'beam-tube' }, LCD: { kind: 'lcd' }, dimmed: { kind: 'lcd', preset: 'dimmed-lcd' } },
  rooms: {
    evening: { kind: 'constant-light', illuminanceLux: 50 },
    lamp: { kind: 'flickering-light', preset: 'incandescent-60' },
  },
  hands: { still: null, pull: { kind: 'swaying-hand', preset: 'one-handed-pull' } },
  aims: { centre: { target: 0 }, border: { target: 0, dx: 7 } },
  allowManyEdges: true,
};
