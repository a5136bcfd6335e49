import { MOST_EDGES_SHARE } from '../sweep/edges.ts';
import { MEASURES, PLAN_VERSION, RANDOM_AXES } from '../sweep/plan-format.ts';

/** The plan format. */
export function sweepHelp(): string {
  return `latelight sweep PLAN [--jobs N] [--out FILE [--resume]] [--csv FILE] [--junit FILE] [--json] [--quiet] [--scenario-of C:S]

A plan is one JSON object. Entries marked * must be given, all others may be left out; what holds then stands in brackets.
Every entry of an axis is shot with every entry of the others; an axis that is not given is as in the scenario.

  sweep           * ${PLAN_VERSION}, the version of the format
  title           * text
  scenario        * path of a scenario from the folder of the plan, or the scenario itself
  strategies        { "name": { what is different: "image", "labels", "symbols", "targets", "said", "pads", "pulls", ... } };
                    paths that stand here are taken from the folder of the plan (one: the scenario)
  hands             { "name": { "kind": "swaying-hand", "preset": "one-handed" }, "still": null } (one: the scenario's)
  delays            [0, 50, 200] or { "fromMs": 0, "toMs": 200, "stepMs": 10 }: a pure-delay stage before the panel
                    (one: the scenario's stages)
  delayStage        put the delays into this stage of the scenario instead, counted from 0 (a stage of its own)
  panels            { "name": { "kind": "lcd", "preset": "late-lcd" } } (one: the scenario's); so also sensors, rooms
  aims              { "name": { "x": dots, "y": scanlines } } or { "target": 0, "dx": 8, "dy": 0 }: from the centre of a target, as
                    the glass shows it when the trigger is pulled where the scenario says; dx, dy (0)
                    (the aims of the scenario's shots)
  random            what is drawn by lot for each shot: ${RANDOM_AXES.map((axis) => `"${axis}"`).join(', ')};
                    (everything that runs free). A hand that sways always is drawn. A shot draws by its number alone:
                    strategies are compared on the same draws
  n               * shots a cell
  seed              a whole number (1)
  compare           [["first strategy", "second"]] (each with the first)
  passLimits        [{ "measure": one of ${MEASURES.map((measure) => `"${measure}"`).join(', ')},
                       "atMost": 0.01 or "atLeast": 0.99, "where": { "strategy": ["name"], "delayMs": [0, 50], ... } (all cells),
                       "overCells": "holm" or "each" ("holm") }] (no limit: rates are printed, nothing is judged):
                    shown when Wilson's 95 % interval lies within it, corrected for the
                    number of cells by Holm's rule; refused when n shots could not show it
  allowManyEdges    true: more than ${MOST_EDGES_SHARE * 100} % of the shots may lie on a target's border (false)

Where the scenario or a strategy says in "calibration" how the program tells that it refused to calibrate, such shots are not
taken: they are counted apart as "calibration refused", in no other rate, and show no limit but one on themselves.

Options
  --jobs N           worker threads (as many as there are cores)
  --out FILE         write every cell as it finishes; sorted by cell when all are done
  --resume           go on with the cells that FILE does not hold; Control-C stops at once, cells in progress are run again
  --csv FILE         a table for spreadsheets
  --junit FILE       the limits as test results; refused calibrations are skipped tests
  --json             print JSON instead of a table
  --quiet            say nothing about the progress
  --scenario-of C:S  print shot S (counted from 1) of cell C as a scenario, to look at it with shoot
Exit status: 0 every limit is shown, 1 refused, 2 command line, 3 a limit is not shown or a cell could not be shot, 130 stopped.

The same plan gives the same bytes with any number of workers, stopped and resumed as often as you like. Memory: about
190 MB at the peak with two workers (measured by npm run bench), and in the command a byte a shot for shots whose outcome varies.

Example
  { "sweep": 1, "title": "First Light, late screens", "scenario": "homebrew-demo/first-light/tube.json", "n": 400,
    "delays": [0, 8, 50], "panels": { "tube": { "kind": "beam-tube" }, "LCD": { "kind": "lcd" } },
    "passLimits": [{ "measure": "right", "atLeast": 0.98, "where": { "delayMs": [0] } }] }
`;
}
