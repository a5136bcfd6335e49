import { CONSTANT_LIGHT } from './constant-light.ts';
import { FLICKERING_LIGHT } from './flickering-light.ts';
import type { RoomModel } from './room.ts';

/** Every room model: one line each. */
export const ROOMS: readonly RoomModel[] = [CONSTANT_LIGHT, FLICKERING_LIGHT];
