import { ALL_TIMINGS, lampAlone, lampAndScreen, lampSwitchedOn } from './refusals.ts';

const everywhere = <T>(measure: (timing: (typeof ALL_TIMINGS)[number], mainsHz: number) => T): T[] =>
  ALL_TIMINGS.flatMap((timing) => [50, 60].map((mainsHz) => measure(timing, mainsHz)));
const [phases, trials] = process.argv.slice(2).map(Number) as [number, number];
console.log(
  JSON.stringify({
    alone: everywhere((timing, mainsHz) => lampAlone(timing, mainsHz, phases)),
    withScreen: everywhere((timing, mainsHz) => lampAndScreen(timing, mainsHz, phases)),
    switchedOn: everywhere((timing, mainsHz) => lampSwitchedOn(timing, mainsHz, trials)),
  }),
);
