import { handTable, modelFigures } from './figures.ts';

const [visits, shots] = process.argv.slice(2).map(Number) as [number, number];
console.log(JSON.stringify({ model: modelFigures(visits), hands: handTable(shots) }));
