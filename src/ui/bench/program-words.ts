import { html, type TemplateResult } from 'lit';
import { ownImageName } from '../own-program/own-id.ts';
import type { ChosenProgram } from '../own-program/own-program.ts';

/** What the page says of the program that is chosen. */
export interface ProgramWords {
  /** What it is called where it reads the light, and in the list of shots. */
  readonly reader: string;
  /** What it is called where it is played. */
  readonly name: string;
  readonly lead: TemplateResult;
  readonly shoot: string;
  readonly shootNote: string;
}

const HOW = 'played from power-on with no moving picture; a wrong one is run again to prove its cause.';

export function programWords(program: ChosenProgram): ProgramWords {
  if ('files' in program) {
    const { id, title, version, hasShots } = program;
    return {
      reader: version === 1 ? title : `${title}, version ${version}`,
      name: title,
      lead: html`<em>${ownImageName(id)}</em>, an image of your own, is played through the screen of the bench: read after each
        pull what the light did. Nobody has looked at how it flashes; the flash check holds it against the published limits.`,
      shoot: 'Shoot once',
      shootNote: `One shot at the aim, ${hasShots ? 'at the instant of the first shot of its scenario' : 'when the first target has been live for a while'}, ${HOW}`,
    };
  }
  return {
    reader: program.title,
    name: 'Lamplighter',
    lead: html`<em>Lamplighter</em> flashes its lamps and looks for their light. Play it through a screen that is late, and
      read after each pull what the light did.`,
    shoot: 'Shoot once at the practice street',
    shootNote: `One shot at the aim, at the instant of the first shot of its scenario, ${HOW}`,
  };
}

/** The way to an own image, or to its files and its scenario. */
export const ownButton = (program: ChosenProgram, open: () => void) =>
  html`<button type="button" class="quiet" id="own-image" @click=${open}>${'files' in program ? 'Files and scenario of the own image' : 'An image of your own'}</button>`;
