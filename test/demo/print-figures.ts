import { STRATEGIES } from '../lamplighter.ts';
import { strategyFigures } from './strategy-figures.ts';

/** The text of `homebrew-demo/lamplighter/strategies/figures.json`, before it is formatted. */
console.log(JSON.stringify(STRATEGIES.map(strategyFigures), null, 2));
