import { MOST_EDGES_SHARE } from '../sweep/edges.ts';
import { MEASURES, PLAN_VERSION, RANDOM_AXES } from '../sweep/plan-format.ts';

/** The plan format. */
export function sweepHelp(): string {
  return `A plan is one JSON object. Entries marked * must be given. Every entry of an axis is shot with every entry of the others;
an axis that is not given is as in the scenario.

  sweep           * ${PLAN_VERSION}, the version of the format
  title           * text
  scenario        * path of a scenario from the folder of the plan, or the scenario itself
  strategies        { "name": { what is different: "image", "labels", "symbols", "targets", "said", "pads", "pulls", ... } };
                    paths that stand here are taken from the folder of the plan
  hands             { "name": { "kind": "swaying-hand", "preset": "one-handed" }, "still": null }
  delays            [0, 50, 200] or { "fromMs": 0, "toMs": 200, "stepMs": 10 }: a pure-delay stage before the panel
  delayStage        put the delays into this stage of the scenario instead, counted from 0
  panels            { "name": { "kind": "lcd", "preset": "late-lcd" } }; so also sensors, rooms
  aims              { "name": { "x": dots, "y": scanlines } } or { "target": 0, "dx": 8, "dy": 0 }: from the centre of a target, as
                    the glass shows it when the trigger is pulled where the scenario says; else the aims of the scenario's shots
  random            what is drawn by lot for each shot: ${RANDOM_AXES.map((axis) => `"${axis}"`).join(', ')};
                    everything that runs free when not given. A hand that sways always is. A shot draws by its number alone:
                    strategies are compared on the same draws
  n               * shots a cell
  seed              a whole number (1)
  compare           [["first strategy", "second"]]; else each with the first
  passLimits        [{ "measure": ${MEASURES.map((measure) => `"${measure}"`).join(' | ')},
                       "atMost": 0.01 or "atLeast": 0.99, "where": { "strategy": ["name"], "delayMs": [0, 50], ... },
                       "overCells": "holm" or "each" }]: shown when Wilson's 95 % interval lies within it, corrected for the
                    number of cells by Holm's rule; refused when n shots could not show it
  allowManyEdges    true: more than ${MOST_EDGES_SHARE * 100} % of the shots may lie on a target's border (false)

The same plan gives the same bytes with any number of workers, stopped and resumed as often as you like. Memory: about
190 MB at the peak with two workers (measured by npm run bench), and in the command a byte a shot for shots whose outcome varies.

Example
  { "sweep": 1, "title": "First Light, late screens", "scenario": "homebrew-demo/first-light/tube.json", "n": 400,
    "delays": [0, 8, 50], "panels": { "tube": { "kind": "beam-tube" }, "LCD": { "kind": "lcd" } },
    "passLimits": [{ "measure": "right", "atLeast": 0.98, "where": { "delayMs": [0] } }] }
`;
}
