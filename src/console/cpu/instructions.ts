import { LatelightError } from '../../errors/latelight-error.ts';
import { OPCODES, type OpcodeSpec } from '../../references/opcodes.ts';
import { ADDRESS_FUNCTIONS, type AddressFunction } from './address-modes.ts';
import type { CpuCore } from './cpu-core.ts';
import type { Registers } from './flags.ts';
import { IMPLIED_OPERATIONS, MODIFY_OPERATIONS, READ_OPERATIONS, WRITE_OPERATIONS } from './operations.ts';
import { branchSequence, SEQUENCES } from './sequences.ts';
import { unstableStore } from './unstable-stores.ts';

/** What follows the opcode fetch, cycle by cycle. */
type Instruction = (cpu: CpuCore) => void;

/** Every instruction by its opcode, composed once from the table: address mode x operation. */
export const INSTRUCTIONS: readonly Instruction[] = OPCODES.map(compose);

function compose(spec: OpcodeSpec): Instruction {
  const { mnemonic, mode } = spec;
  return SEQUENCES[mnemonic] ?? branchSequence(mnemonic) ?? unstableStore(mnemonic, mode) ?? composeOperation(spec);
}

function composeOperation({ mnemonic, mode, access }: OpcodeSpec): Instruction {
  if (mode === 'implied') return implied(known(mnemonic, IMPLIED_OPERATIONS[mnemonic]));
  if (mode === 'accumulator') return accumulator(known(mnemonic, MODIFY_OPERATIONS[mnemonic]));
  const addressOf = ADDRESS_FUNCTIONS[mode];
  if (access === 'read') return reading(addressOf, known(mnemonic, READ_OPERATIONS[mnemonic]));
  if (access === 'write') return writing(addressOf, known(mnemonic, WRITE_OPERATIONS[mnemonic]));
  if (access === 'rmw') return modifying(addressOf, known(mnemonic, MODIFY_OPERATIONS[mnemonic]));
  return jumping(addressOf);
}

function known<Operation>(mnemonic: string, operation: Operation | undefined): Operation {
  if (operation === undefined) throw new LatelightError('INTERNAL', { what: `${mnemonic} has no operation` });
  return operation;
}

/** The byte after the opcode is read and dropped. */
function implied(operation: (r: Registers) => void): Instruction {
  return (cpu) => {
    cpu.read(cpu.pc);
    operation(cpu);
  };
}

function accumulator(operation: (r: Registers, value: number) => number): Instruction {
  return (cpu) => {
    cpu.read(cpu.pc);
    cpu.a = operation(cpu, cpu.a);
  };
}

function reading(addressOf: AddressFunction, operation: (r: Registers, value: number) => void): Instruction {
  return (cpu) => operation(cpu, cpu.read(addressOf(cpu, false)));
}

function writing(addressOf: AddressFunction, operation: (r: Registers) => number): Instruction {
  return (cpu) => cpu.write(addressOf(cpu, true), operation(cpu));
}

/** Writes the old value in the cycle in which it works out the new one. */
function modifying(addressOf: AddressFunction, operation: (r: Registers, value: number) => number): Instruction {
  return (cpu) => {
    const address = addressOf(cpu, true);
    const old = cpu.read(address);
    cpu.write(address, old);
    cpu.write(address, operation(cpu, old));
  };
}

/** JMP: the address is the destination, nothing is read there. */
function jumping(addressOf: AddressFunction): Instruction {
  return (cpu) => {
    cpu.pc = addressOf(cpu, false);
  };
}
