import type { PortDevice } from '../../../console/ports.ts';
import { hex } from '../../../units/hex.ts';
import { countText } from '../../sentence.ts';
import { endOf } from '../facts.ts';
import { type Finding, field, type Intervention } from '../intervention.ts';
import type { Observation } from '../observation.ts';

const PORTS = [1, 2] as const;

/** Where a program reads a port. */
const addressOf = (port: number): number => 0x4015 + port;
const addressText = (port: number): string => hex(addressOf(port), 4);

/** Reads of a port that has no light sensor, from the trigger to the end of the shot. */
function strayReads(first: Observation): { port: 1 | 2; count: number } {
  const { ports } = first.prepared.scenario;
  const { trigger } = first.result.ticks;
  const counts = PORTS.map((port) => ({
    port,
    count:
      ports[port - 1] === 'light sensor'
        ? 0
        : first.record.readsOf(port).ticks.filter((tick) => tick >= trigger && tick <= endOf(first)).length,
  }));
  return counts[0]!.count >= counts[1]!.count ? counts[0]! : counts[1]!;
}

/** A pad that is played with must stay where it is. */
const isPlayedWith = ({ prepared: { scenario } }: Observation, port: 1 | 2): boolean =>
  scenario.ports[port - 1] === 'pad' && scenario.pads.some((press) => press.port === port);

/** The light sensor answers on both ports, beside a pad that is plugged in. */
export const RIGHT_PORT: Intervention = {
  name: 'right port',
  title: 'the light sensor answers on both ports',
  evidence: (first) => strayReads(first).count,
  apply: (world) => ({ ...world, isOnBothPorts: true }),
  describe(first) {
    const { port, count } = strayReads(first);
    const { ports } = first.prepared.scenario;
    const sensorPort = ports.indexOf('light sensor') + 1;
    const isPad = isPlayedWith(first, port);
    if (sensorPort === 0) return noSensor(port, count, isPad, ports);
    return {
      id: 'wrong-port',
      fields: {
        strayReads: field(count, 'reads'),
        readPort: field(port, ''),
        readAddress: field(addressOf(port), ''),
        sensorPort: field(sensorPort, ''),
        sensorAddress: field(addressOf(sensorPort), ''),
        sensorReads: field(first.result.reads.length, 'reads'),
      },
      sentence: `Between trigger and decision the program read port ${port} (${addressText(port)}) ${countText(count, 'time')}, and the light sensor is plugged into port ${sensorPort} (${addressText(sensorPort)}), which it read ${countText(first.result.reads.length, 'time')}.`,
      cure: {
        text: `Read the light at ${addressText(sensorPort)} instead of ${addressText(port)}${isPad ? '' : `, or plug a light sensor into port ${port} as well`}.`,
        changes: [
          ...(isPad ? [] : [{ in: 'scenario' as const, path: 'ports', value: ['light sensor', 'light sensor'] }]),
          { in: 'program', constant: 'light port', to: addressOf(sensorPort), unit: '' },
        ],
      },
    };
  },
};

/** There is none to be read anywhere. */
function noSensor(port: 1 | 2, count: number, isPad: boolean, ports: readonly PortDevice[]): Finding {
  const value = ports.map((device, i) => (i === port - 1 ? 'light sensor' : device));
  return {
    id: 'wrong-port',
    fields: {
      strayReads: field(count, 'reads'),
      readPort: field(port, ''),
      readAddress: field(addressOf(port), ''),
    },
    sentence: `Between trigger and decision the program read port ${port} (${addressText(port)}) ${countText(count, 'time')}, and no light sensor is plugged in.`,
    cure: {
      text: isPad
        ? `Plug a light sensor into port ${port}, and play with the pad at the other one.`
        : `Plug a light sensor into port ${port}.`,
      changes: isPad ? [] : [{ in: 'scenario', path: 'ports', value }],
    },
  };
}
