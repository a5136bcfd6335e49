import { HANDS, type HandName, handRow, MARGINS } from './hand-table.ts';

/** The table of margins and hands. Argument: shots a place. */
const count = Number(process.argv[2]);
const rows = MARGINS.flatMap((margin) =>
  (Object.keys(HANDS) as HandName[]).map((hand) => handRow(margin, hand, count)),
);
console.log(JSON.stringify(rows));
