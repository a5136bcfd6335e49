import type { ModelSpec, Sourced } from '../references/sourced.ts';
import { HANDS } from '../shot/hand.ts';
import { LIGHT_PATH_SPECS, rangeText } from '../shot/light-path-settings.ts';
import { SCENARIO_VERSION } from '../shot/scenario.ts';

export const HELP = `latelight: light-gun games on late screens, tried without a screen

  latelight shoot SCENARIO [SCENARIO ...]   run every shot of each scenario, say what happened and why
      --shot N           only shot N (counted from 1)
      --json             print JSON instead of text: ticks, milliseconds, flips, judgement
      --require-right    exit with 3 unless every shot is a hit or rightly none
  latelight assemble SOURCE -o IMAGE        build a program; the same source goes through ca65 and ld65 to the same bytes
      --labels FILE      write the labels as ld65 -Ln does
      --listing FILE     write address, bytes and cycles of each line
  latelight sweep PLAN                      shoot a whole plan: programs by delays, panels, sensors, rooms and aims, many shots each
      --jobs N           worker threads (as many as there are cores)
      --out FILE         write every cell as it finishes; sorted by cell when all are done
      --resume           go on with the cells that FILE does not hold
      --json             print JSON instead of a table
      --csv FILE         write a table for spreadsheets;  --junit FILE  write the limits as test results
      --quiet            say nothing about the progress
      --scenario-of C:S  print shot S of cell C as a scenario, to look at it with shoot
  latelight flash-check SCENARIO ...        hold what the game shows against published limits for flashing pictures
      --seconds N        how long it is watched after power-on (2 s after the last shot)
      --scale N          CSS pixels from line to line when it is shown (3);  --pixel-aspect N  width of a dot over its height (1)
      --profile ID       wcag-a, wcag-aaa, tv-1702, trace-24 or all (wcag-a and tv-1702)
      --pictures FILE    write the pictures of the worst second;  --json  print JSON instead of text
  latelight help shoot                      shoot: options, judgements, examples;  help flash-check  the same of that
  latelight help sweep                      what a plan file holds
  latelight help assemble                   the assembler: memory map, commands, notes of cycles, how to read the listing
  latelight help scenario                   what a scenario file holds, every model with its parameters
  latelight --help                          this text

A scenario is a JSON file. It names a cartridge image, says where the program keeps its targets and how it says what was
hit, and describes the way of the light from the console's plug to the light bit. Try
  latelight shoot homebrew-demo/first-light/tube.json
then copy that file, change "lightPath" and shoot again.

What a shot prints
  hit             the program said the target that the glass showed at the aim
  miss            it said none, but the aim was on a target
  wrong target    it said another target
  false hit       it said a target, but the aim was on nothing
  rightly none    it said none and the aim was on nothing
  no decision     it said nothing by the deadline, or jammed
  edge            the aim lay on a border: neither right nor wrong

Exit status
  0   every shot was run, whatever its judgement; every limit of a plan is shown
  1   a scenario, an image or a program was refused; the message says what was found, expected and what to do
  2   the command line was not understood
  3   --require-right was given and a shot was not right; a limit of a plan is not shown, or a cell could not be shot; a game flashes above the limits, or a shot of it was not watched
  70  a fault of Latelight itself
  130 a sweep was stopped
`;

/** The scenario format, made from the same lists that check it. */
export function scenarioHelp(): string {
  return `A scenario is one JSON object. Entries marked * must be given.

  scenario        * ${SCENARIO_VERSION}, the version of the format
  title           * text
  image           * path of the cartridge image (NES 2.0 header), from the folder of the scenario
  labels            path of the label file that ld65 -Ln writes, or of the debug file of ld65 --dbgfile (with scopes: play::done)
  symbols           more names: { "lampX": 16 }
  timing            "image" (what the header says), "60hz", "50hz" or "50hz-clone"
  alignment         { "cpuPhaseTicks": 0 to 11 (60 Hz), 15 (50 Hz), 14 (clone), "putParity": 0 or 1 }: how processor, raster and DMA stand at power-on
  ports             what is plugged into ports 1 and 2: ["pad", "light sensor"]; also "none"
  pads              presses: [{ "port": 1, "button": "Start", "fromMs": 100, "toMs": 150 }]
  targets         * count *: 1 to 16; isLive, x *, y *, width *, height *: expressions in quotes over the program's memory,
                    with i = 0, 1 ... count - 1; marginDots: how much larger the flash box is on every side (0);
                    boxX, boxY: top left corner of the box where the program has it, else the target's less the margin
  said            * on * "write" or "fetch", at * a symbol or a number; target *: an expression, -1 = none, else the target;
                    value is the byte written; a fetch is heard before the instruction runs
  limits            { "hitShare": 0.65 (0.5 to 1), "nothingShare": 0.1 (0 to 0.5) }, shares of the spot's weight on the box: the
                    aim is on a target if it lies in the target itself, its share reaches hitShare, and no other target has
                    more than nothingShare; it is on nothing if no share is above nothingShare; else it is an edge
  deadlineFrames    frames from the trigger to the deadline; else the light path's latency and 60 frames more
  pulls             pulls of the trigger before every shot, each with its own aim, like shots (none)
  settleMs          how long before a pull the wand points where that pull aims (200)
  shots           * [{ "aim": { "x": dots, "y": scanlines }, "atMs": trigger after power-on, "squeezeMs": 80 }]
  seed              a whole number from which the hand's sway is drawn
  hand              how the hand moves after the trigger (it keeps still): { "kind": ..., "preset": ..., values }
  lightPath       * stages (a list), panel *, room *, optics *, sensor *: each { "kind": ..., "preset": ..., values }
  pullsLightPath    the light path of the pulls, where it is another one: until the wand turns to the shot
  calibration       where the program keeps its delay, for causes: { "at": symbol or number, "bytes": 1 to 4, "unitCycles": cycles a unit,
                    "refused": expression, not 0 when the program has refused its calibration: a sweep counts such shots apart }

Expressions: 12 $0C %1100, symbols, byte(a) word(a) signed(a), - ~ ! * / % + - << >> < <= > >= == != & ^ | && ||

${Object.entries(LIGHT_PATH_SPECS)
  .flatMap(([part, specs]) => specs.map((spec) => modelHelp(part, spec)))
  .concat(HANDS.map((spec) => modelHelp('hand', spec)))
  .join('\n')}`;
}

function modelHelp(part: string, spec: ModelSpec): string {
  const parameters = spec.parameters.map(
    (parameter) =>
      `    ${parameter.name.padEnd(24)}${String(Number(parameter.standard.value.toPrecision(6))).padEnd(10)}${rangeText(parameter).padEnd(28)} ${sourceText(parameter.standard)}`,
  );
  const presets = spec.presets.map((preset) => `    preset "${preset.id}": ${preset.title}`);
  return [`${part} "${spec.kind}": ${spec.what}`, ...parameters, ...presets, ''].join('\n');
}

/** Kind and source; a source that names its kind itself is not told twice. */
const sourceText = ({ kind, source }: Sourced): string =>
  source.startsWith(`${kind}: `) ? source : `${kind}: ${source}`;
