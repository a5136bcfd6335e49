import { LatelightError } from '../../../errors/latelight-error.ts';
import type { CartridgeImage } from '../../../program/image.ts';
import type { Slot } from '../slot.ts';
import { Nrom } from './nrom.ts';

/** Circuits by the header's board number. A new circuit is one file and one line here. */
const CIRCUITS: Readonly<Record<number, (image: CartridgeImage) => Slot>> = {
  0: (image) => new Nrom(image),
};

/** The circuit that an image's header asks for. Errors: IMAGE_UNSUPPORTED. */
export function createCircuit(image: CartridgeImage): Slot {
  const create = CIRCUITS[image.circuit];
  if (create !== undefined) return create(image);
  throw new LatelightError('IMAGE_UNSUPPORTED', {
    what: `circuit number ${image.circuit}`,
    expected: 'circuit 0 (NROM)',
  });
}
