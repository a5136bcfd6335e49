import { readFileSync } from 'node:fs';
import { checkScenario } from '../src/shot/scenario.ts';
import { type PreparedScenario, prepareScenario } from '../src/shot/shot.ts';

const FOLDER = 'homebrew-demo/first-light';
const labels = readFileSync(`${FOLDER}/first-light.lbl`, 'utf8');

/** What a test changes of First Light. */
export interface FirstLightSetting {
  readonly lightPath?: Readonly<Record<string, unknown>>;
  readonly shots?: readonly unknown[];
  readonly timing?: string;
  readonly alignment?: unknown;
  readonly deadlineFrames?: number;
  /** Scanline of the lamp's top edge; the image is patched where the program loads it. */
  readonly lampY?: number;
  /** Colours of the lamp set to black, so that the scene is black but for the flash. */
  readonly isSceneBlack?: boolean;
}

/** First Light with some settings changed, ready to shoot. */
export function firstLight(setting: FirstLightSetting): PreparedScenario {
  const { lampY, isSceneBlack, ...changes } = setting;
  const document = JSON.parse(readFileSync(`${FOLDER}/tube.json`, 'utf8'));
  Object.assign(document, changes, { lightPath: { ...document.lightPath, ...setting.lightPath } });
  const image = new Uint8Array(readFileSync(`${FOLDER}/first-light.bin`));
  if (lampY !== undefined) image[findLampY(image)] = lampY;
  if (isSceneBlack === true) image.fill(0x0f, colours(), colours() + 3);
  return prepareScenario(checkScenario(document), { image, labels });
}

/** Offset of the operand in `lda #104 / sta lampY`. */
function findLampY(image: Uint8Array): number {
  const at = Buffer.from(image).indexOf(Buffer.from([0xa9, 104, 0x85, addressOf('lampY')]));
  if (at < 0) throw new Error('First Light no longer sets lampY by lda #104 / sta lampY');
  return at + 1;
}

const colours = (): number => 16 + addressOf('lamp_colours') - 0x8000;

function addressOf(name: string): number {
  const match = new RegExp(`^al ([0-9A-F]{6}) \\.${name}$`, 'm').exec(labels);
  if (match === null) throw new Error(`no label ${name}`);
  return Number.parseInt(match[1]!, 16);
}
