import { hex } from '../../../units/hex.ts';
import { endOf, ms, spanOf } from '../facts.ts';
import { field, type Intervention } from '../intervention.ts';

const NOP = 0xea;

/** The opcode that stopped the processor does nothing instead. */
export const NO_JAM: Intervention = {
  name: 'no jam',
  title: 'the opcode that stops the processor does nothing',
  evidence: ({ record }) => (record.jam === undefined ? 0 : 1),
  apply: (world, { record }) => ({
    ...world,
    pokes: [...world.pokes, { address: record.jam!.address, value: NOP }],
  }),
  describe(first) {
    const { address, opcode, tick } = first.record.jam!;
    const after = tick - first.result.ticks.trigger;
    const before = endOf(first) - tick;
    return {
      id: 'jam',
      fields: {
        jamAfterTrigger: ms(first, after),
        beforeDeadline: ms(first, before),
        address: field(address, ''),
        opcode: field(opcode, ''),
      },
      sentence: `The program jammed the processor ${spanOf(first, after)} after the trigger, ${spanOf(first, before)} before its deadline: opcode ${hex(opcode, 2)} at ${hex(address, 4)}.`,
      cure: {
        text: `Take the opcode ${hex(opcode, 2)} at ${hex(address, 4)} out: with a NOP ($EA) in its place the shot is right.`,
        changes: [{ in: 'image', address, value: NOP }],
      },
    };
  },
};
