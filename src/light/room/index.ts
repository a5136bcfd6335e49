import { CONSTANT_LIGHT } from './constant-light.ts';
import type { RoomModel } from './room.ts';

/** Every room model: one line each. */
export const ROOMS: readonly RoomModel[] = [CONSTANT_LIGHT];
