import calibratedImage from '../../homebrew-demo/lamplighter/calibrated.bin?url';
import calibratedLabels from '../../homebrew-demo/lamplighter/calibrated.lbl?url';
import calibratedScenario from '../../homebrew-demo/lamplighter/calibrated-late-lcd.json?url';
import fixedDelayImage from '../../homebrew-demo/lamplighter/fixed-delay.bin?url';
import fixedDelayLabels from '../../homebrew-demo/lamplighter/fixed-delay.lbl?url';
import testedImage from '../../homebrew-demo/lamplighter/same-frame-tested.bin?url';
import testedLabels from '../../homebrew-demo/lamplighter/same-frame-tested.lbl?url';
import untestedImage from '../../homebrew-demo/lamplighter/same-frame-untested.bin?url';
import untestedLabels from '../../homebrew-demo/lamplighter/same-frame-untested.lbl?url';
import sceneScenario from '../../homebrew-demo/lamplighter/tube.json?url';

/** A program that can be played: Lamplighter with one of its strategies. */
export interface PlayableProgram {
  readonly id: string;
  readonly title: string;
  readonly image: string;
  readonly labels: string;
  readonly scenario: string;
}

export const PROGRAMS: readonly PlayableProgram[] = [
  {
    id: 'same-frame-untested',
    title: 'same frame, untested',
    image: untestedImage,
    labels: untestedLabels,
    scenario: sceneScenario,
  },
  {
    id: 'same-frame-tested',
    title: 'same frame, tested dark',
    image: testedImage,
    labels: testedLabels,
    scenario: sceneScenario,
  },
  {
    id: 'fixed-delay',
    title: 'fixed delay',
    image: fixedDelayImage,
    labels: fixedDelayLabels,
    scenario: sceneScenario,
  },
  {
    id: 'calibrated',
    title: 'calibrated',
    image: calibratedImage,
    labels: calibratedLabels,
    scenario: calibratedScenario,
  },
];

/** What a program is run from. */
export interface ProgramFiles {
  readonly image: Uint8Array;
  /** Undefined: its scenario writes addresses as numbers. */
  readonly labels: string | undefined;
  /** JSON text. */
  readonly scenario: string;
}

type FetchedFiles = ProgramFiles & { readonly labels: string };

/** The files of a program, fetched from where the page came from. */
export async function fetchProgram({ image, labels, scenario }: PlayableProgram): Promise<FetchedFiles> {
  const text = async (url: string) => (await answerOf(url)).text();
  const [bytes, names, document] = await Promise.all([
    answerOf(image).then((answer) => answer.arrayBuffer()),
    text(labels),
    text(scenario),
  ]);
  return { image: new Uint8Array(bytes), labels: names, scenario: document };
}

async function answerOf(url: string): Promise<Response> {
  const answer = await fetch(url);
  if (!answer.ok) throw new Error(`${url} was answered with ${answer.status}`);
  return answer;
}
