/** `latelight help shoot`. */
export const SHOOT_HELP = `latelight shoot SCENARIO [SCENARIO ...] [--shot N] [--json] [--require-right]

Runs every shot of each scenario on its own, from power-on, and says what the aim was on, what the program said and when the
flash left the console, lit the glass, crossed the sensor's threshold and was read. A shot that was wrong is explained: one
thing is put right, the shot is run again, and only what makes it right is called a cause; with each cause stands a cure.
  --shot N           only shot N of each scenario, counted from 1 (all)
  --json             print JSON instead of text: ticks, milliseconds, flips, judgement, explanation
  --require-right    exit with 3 unless every shot is a hit or rightly none, and nothing was said twice
  -h, --help         this text

Reads of the port are those from the trigger to the decision; where there was none of a kind, - stands for its time.

Judgements
  hit             the program said the target that the glass showed at the aim
  miss            it said none, but the aim was on a target
  wrong target    it said another target
  false hit       it said a target, but the aim was on nothing
  rightly none    it said none and the aim was on nothing
  no decision     it said nothing by the deadline; also a program that jammed after the trigger
  edge            the aim lay on a border: neither right nor wrong
  refused         the program refused its calibration, as "calibration" of the scenario tells it: no shot was taken

Exit status
  0   every shot was run, whatever its judgement
  1   a scenario, an image or a program was refused: also a program that jams before the trigger is pulled
  2   the command line was not understood
  3   --require-right was given and a shot was not right

Example
  latelight shoot homebrew-demo/first-light/tube.json homebrew-demo/first-light/late-lcd.json
  latelight shoot --shot 2 --json homebrew-demo/lamplighter/calibrated-late-lcd.json

What a scenario holds: latelight help scenario. Many shots: latelight help sweep.
`;
