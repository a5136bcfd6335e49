import { FLASH_PROFILES } from '../safety/flash-profile.ts';
import { LONGEST_S, USUAL_PROFILES, USUAL_SCALE } from './flash-check.ts';

/** `latelight help flash-check`, made from the profiles that it checks with. */
export function flashCheckHelp(): string {
  return `latelight flash-check SCENARIO [SCENARIO ...] [--seconds N] [--scale N] [--pixel-aspect N] [--profile ID]
                      [--pictures FILE] [--json]

Plays each scenario, pulls its trigger, and holds what the console shows against published limits for flashing pictures. An
estimate, no medical guarantee: programs that flash can harm people with photosensitive epilepsy. Only what the scenario
plays is judged: its shots, pulls and pads; of shots at one time, which are alternatives, the first.
  --seconds N        how long it is watched from power-on, 0.1 to ${LONGEST_S} (2 s after the last shot); a shot that is not
                     watched for a second is not judged, and said
  --scale N          CSS pixels from line to line when it is shown, 0.1 to 20 (${USUAL_SCALE})
  --pixel-aspect N   width of a dot over its height when it is shown, 0.5 to 2 (1: dots are taken for square; 1.143 for 8:7)
  --profile ID       which limits (${USUAL_PROFILES.join(' and ')}); all takes every one of
${FLASH_PROFILES.map(({ id, title, source }) => `                       ${id.padEnd(10)} ${title}; ${source}`).join('\n')}
  --pictures FILE    write the pictures of the worst second, and the one before, side by side as a PNG file, still
  --json             print JSON instead of text
  -h, --help         this text

Exit status
  0   everything stays below the limits
  1   a scenario, an image or a program was refused
  2   the command line was not understood
  3   something flashes above a limit, or a shot was not watched for a second, or was pulled while the trigger was held

Example
  latelight flash-check --profile wcag-a homebrew-demo/first-light/tube.json
  latelight flash-check --seconds 8 --scale 2 --profile all --json homebrew-demo/lamplighter/tube.json
`;
}
