import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ScriptedBus } from '../../../test/console/scripted-bus.ts';
import { hashNoise } from '../../units/noise.ts';

/** A bus full of noise: random code, random lines, random stalls, all from one seed. */
function noisyBus(seed: number): ScriptedBus {
  const bus = new ScriptedBus();
  for (let address = 0; address < 0x10000; address++) bus.memory[address] = hashNoise(seed, 0, address) * 256;
  bus.nmi = (cycle) => hashNoise(seed, 1, cycle >> 3) < 0.2;
  bus.irq = (cycle) => hashNoise(seed, 2, cycle >> 3) < 0.2;
  bus.stall = (cycle) => (hashNoise(seed, 3, cycle) < 0.05 ? 3 : 0);
  bus.cpu.reset();
  return bus;
}

function run(bus: ScriptedBus, steps: number): void {
  for (let step = 0; step < steps; step++) bus.cpu.step();
}

describe('state of the processor', () => {
  it('load(save()) goes on identically, wherever it is cut', () => {
    const counts = { interrupts: 0, jams: 0 };
    const property = fc.property(fc.integer(), fc.nat(60), fc.nat(60), (seed, before, after) => {
      const bus = noisyBus(seed);
      run(bus, before);
      const copy = noisyBus(seed);
      copy.memory.set(bus.memory);
      copy.cycle = bus.cycle;
      copy.log.length = 0;
      copy.cpu.load(JSON.parse(JSON.stringify(bus.cpu.save())));
      bus.log.length = 0;
      run(bus, after);
      run(copy, after);
      expect(copy.log).toEqual(bus.log);
      expect(copy.cpu.save()).toEqual(bus.cpu.save());
      counts.interrupts += bus.log.filter((entry) => /nmi|irq/.test(entry)).length;
      if (bus.cpu.isJammed) counts.jams++;
    });
    fc.assert(property, { seed: 20, numRuns: 300 });
    expect(counts.interrupts).toBeGreaterThan(100);
    expect(counts.jams).toBeGreaterThan(20);
  });

  it('names the field that is out of range and stays as it was', () => {
    const bus = noisyBus(1);
    const state = bus.cpu.save();
    const bad = { ...state, a: 1, pc: 0x10000 };
    expect(() => bus.cpu.load(bad)).toThrow('cpu.pc is 65536, expected a whole number, 0 to 65535');
    expect(() => bus.cpu.load({ ...state, s: 1.5 })).toThrow('cpu.s');
    expect(bus.cpu.save()).toEqual(state);
  });

  it('keeps bit 5 of P set and B clear whatever is loaded', () => {
    const bus = noisyBus(1);
    bus.cpu.load({ ...bus.cpu.save(), p: 0xdf });
    expect(bus.cpu.save().p).toBe(0xef);
  });
});
