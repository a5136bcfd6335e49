import { newTally, tableOf, tryDelay } from './delay-trial.ts';
import { handTable, modelFigures } from './figures.ts';
import { ALL_DELAYS, PATHS } from './light-paths.ts';
import { builtFiles } from './practice-street.ts';

/** `npm run bench:theorem`: every light path at every delay, then the figures of the rule's model. Takes half an hour. */
const files = builtFiles('calibrated');
const tallies = PATHS.map((path) => {
  const tally = newTally(path.name);
  for (const delayMs of ALL_DELAYS) tryDelay(files, path, delayMs, tally);
  console.log(tableOf([tally]));
  for (const failure of tally.failures) console.log(`  ${failure}`);
  return tally;
});
const FIGURE_VISITS = 250;
for (const [name, { shots, wrong, refused, by }] of Object.entries(modelFigures(FIGURE_VISITS))) {
  console.log(`${name}: wrong ${wrong} of ${shots}, refused ${refused} of ${FIGURE_VISITS}, ${JSON.stringify(by)}`);
}
for (const [hand, shares] of Object.entries(handTable(200))) console.log(`${hand}: ${shares.join(' / ')} %`);
process.exitCode = tallies.every(({ wrong, refused }) => wrong + refused === 0) ? 0 : 1;
