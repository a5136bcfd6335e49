import { readFileSync } from 'node:fs';
import { type PreparedScenario, prepareScenario } from '../src/shot/prepared-scenario.ts';
import { checkScenario } from '../src/shot/scenario.ts';

const FOLDER = 'homebrew-demo/first-light';
const labels = readFileSync(`${FOLDER}/first-light.lbl`, 'utf8');

/** What a test changes of First Light. */
export interface FirstLightSetting {
  readonly lightPath?: Readonly<Record<string, unknown>>;
  readonly shots?: readonly unknown[];
  readonly pulls?: readonly unknown[];
  readonly timing?: string;
  readonly alignment?: unknown;
  readonly deadlineFrames?: number;
  readonly ports?: readonly [string, string];
  readonly said?: unknown;
  readonly targets?: unknown;
  /** Left and top edge of the lamp; the image is patched where the program loads them. */
  readonly lampX?: number;
  readonly lampY?: number;
  /** More bytes to replace in the image: what is there, and what comes in its place. */
  readonly patches?: readonly (readonly [found: readonly number[], replaced: readonly number[]])[];
  /** Colours of the lamp set to black, so that the scene is black but for the flash. */
  readonly isSceneBlack?: boolean;
}

/** First Light with some settings changed, ready to shoot. */
export function firstLight(setting: FirstLightSetting): PreparedScenario {
  const { lampX, lampY, isSceneBlack, patches = [], ...changes } = setting;
  const document = JSON.parse(readFileSync(`${FOLDER}/tube.json`, 'utf8'));
  Object.assign(document, changes, { lightPath: { ...document.lightPath, ...setting.lightPath } });
  const image = new Uint8Array(readFileSync(`${FOLDER}/first-light.bin`));
  if (lampX !== undefined) replace(image, [0xa9, 120, 0x85, addressOf('lampX')], [0xa9, lampX]);
  if (lampY !== undefined) replace(image, [0xa9, 104, 0x85, addressOf('lampY')], [0xa9, lampY]);
  for (const [found, replaced] of patches) replace(image, found, replaced);
  if (isSceneBlack === true) image.fill(0x0f, colours(), colours() + 3);
  return prepareScenario(checkScenario(document), { image, labels });
}

/** Put bytes where `found` begins; it must stand in the image exactly once. */
function replace(image: Uint8Array, found: readonly number[], replaced: readonly number[]): void {
  const at = Buffer.from(image).indexOf(Buffer.from(found));
  if (at < 0 || Buffer.from(image).indexOf(Buffer.from(found), at + 1) >= 0)
    throw new Error(`First Light has not one place with ${found}`);
  image.set(replaced, at);
}

const colours = (): number => 16 + addressOf('lamp_colours') - 0x8000;

function addressOf(name: string): number {
  const match = new RegExp(`^al ([0-9A-F]{6}) \\.${name}$`, 'm').exec(labels);
  if (match === null) throw new Error(`no label ${name}`);
  return Number.parseInt(match[1]!, 16);
}
