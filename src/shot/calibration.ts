import type { PreparedScenario } from './prepared-scenario.ts';
import type { Shot } from './shot.ts';

/** Where the processor sees the image, and the size of its memory, which is there four times. */
const [PROGRAM_START, RAM_END, RAM_SIZE] = [0x8000, 0x2000, 0x800];

/**
 * Run a shot to its trigger and say whether the program has refused its calibration by then, as `calibration.refused` of the
 * scenario tells it: then no shot is taken. False where the scenario does not tell. Costs a save of the shot.
 * Errors: PROGRAM_JAMMED, SHOT_TOO_EARLY.
 */
export function isCalibrationRefused({ probes, image }: PreparedScenario, shot: Shot): boolean {
  if (probes.refusesCalibration === undefined) return false;
  shot.runUntil(shot.triggerTick);
  const { ram } = shot.save().console;
  return probes.refusesCalibration((address) => {
    if (address < RAM_END) return ram[address % RAM_SIZE]!;
    return address < PROGRAM_START ? 0 : image.program[address % image.program.length]!;
  });
}
