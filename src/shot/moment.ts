import { LatelightError } from '../errors/latelight-error.ts';
import { Fingerprint } from '../units/hash.ts';
import { fromPlainJson, toPlainJson } from './plain-json.ts';
import type { PreparedScenario } from './prepared-scenario.ts';
import type { ShotState } from './shot.ts';

/** Version of the moment format that this code writes and reads. */
const MOMENT_VERSION = 1;

/**
 * Everything needed to go on from an instant of a shot: console, picture ring with targets, light, what was said so far.
 * Inputs still to come and seeds are those of the scenario, which the moment names by its fingerprint.
 */
export interface Moment {
  readonly scenario: string;
  readonly shot: number;
  readonly state: ShotState;
}

/** One text for a scenario and its image: a moment goes on only where it came from. */
export function scenarioFingerprint({ scenario, image, timing }: PreparedScenario): string {
  const fingerprint = new Fingerprint().addText(JSON.stringify(scenario)).addText(timing.id);
  return fingerprint.addBytes(image.program).addBytes(image.pattern).digest();
}

/** A moment as versioned JSON with a checksum over its body. */
export function writeMoment(moment: Moment): string {
  const body = toPlainJson(moment);
  return JSON.stringify({ moment: MOMENT_VERSION, checksum: checksumOf(body), body });
}

/** Read a moment. Error: MOMENT_INVALID for another version, a checksum that does not fit, or another scenario or shot. */
export function readMoment(text: string, prepared: PreparedScenario, shot: number): Moment {
  const { moment: version, checksum, body } = readEnvelope(text);
  if (version !== MOMENT_VERSION) {
    throw new LatelightError('MOMENT_INVALID', {
      found: `version ${String(version).slice(0, 20)}, expected ${MOMENT_VERSION}`,
    });
  }
  if (typeof body !== 'string' || checksumOf(body) !== checksum) {
    throw new LatelightError('MOMENT_INVALID', {
      found: 'its checksum does not fit, so at least one bit has changed since it was written',
    });
  }
  const moment = fromPlainJson(body) as Moment;
  if (moment.scenario !== scenarioFingerprint(prepared) || moment.shot !== shot) {
    throw new LatelightError('MOMENT_INVALID', { found: 'it belongs to another scenario, image or shot' });
  }
  return moment;
}

function readEnvelope(text: string): Record<string, unknown> {
  try {
    const data: unknown = JSON.parse(text);
    if (typeof data === 'object' && data !== null && 'moment' in data) return data as Record<string, unknown>;
  } catch {
    // not JSON: refused below, as is JSON of another kind
  }
  throw new LatelightError('MOMENT_INVALID', { found: 'no JSON document with an entry "moment"' });
}

const checksumOf = (body: string): string => new Fingerprint().addText(body).digest();
