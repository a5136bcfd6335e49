import type { ScenarioFiles } from '../../src/shot/prepared-scenario.ts';
import { changedFiles } from './practice-street.ts';

/** Texts of Lamplighter's source and what stands there instead: each takes one thing from the calibrated strategy. */
export const ONE_PICTURE_A_BOX = { 'BOX_FRAMES   = 2 ': 'BOX_FRAMES   = 1 ' };
export const MARK_AT_THE_TOP = { 'MARK_LINE    = 120': 'MARK_LINE    = 12 ' };
export const ONE_BLACK_PICTURE = {
  'LEAST_BLACK  = 2': 'LEAST_BLACK  = 1',
  'MOST_BLACK   = 6': 'MOST_BLACK   = 1',
};
export const TWO_BLACK_PICTURES = { 'MOST_BLACK   = 6': 'MOST_BLACK   = 2' };
export const NO_DARK_TEST = { '        jsr was_dark\n        bcc @none\n': '' };
/** Bit 6 of the port is always 1, which means dark. */
export const BLIND = { 'LIGHT     = %00001000': 'LIGHT     = %01000000' };
/** Colours of the scene. */
const COLOURS = [
  '$03, $04, $14',
  '$14, $27, $37',
  '$07, $04, $37',
  '$07, $17, $37',
  '$0F, $00, $17',
  '$0F, $27, $37',
  '$0F, $15, $36',
];
const sceneIn = (colours: string): Readonly<Record<string, string>> =>
  Object.fromEntries(COLOURS.map((old) => [`.byte BLACK, ${old}`, `.byte BLACK, ${colours}`]));
/** All that the scene shows is white, lamps and sky alike. */
export const WHITE_SCENE = sceneIn('WHITE, WHITE, WHITE');
/** The scene shows nothing; flash boxes have a colour of their own. */
export const BLACK_SCENE = sceneIn('BLACK, BLACK, BLACK');
/** Boxes stand where the targets are now. */
export const NO_REWIND = {
  '        jsr how_often\n        cmp #FARTHEST\n        bcc @fits\n':
    '        lda #0\n        cmp #FARTHEST\n        bcc @fits\n',
};
/** Two lamps in one row, so many dots apart. */
export const lampsApart = (dots: number): Readonly<Record<string, string>> => ({
  'practice_x:     .byte 44, 124, 204': `practice_x:     .byte 124, ${124 + dots}, 204`,
  'practice_y:     .byte 28, 112, 196': 'practice_y:     .byte 112, 112, 196',
});
/** The NMI handler of a shot takes so many cycles more (an even number): nobody reads the port meanwhile. */
export const slowHandler = (cycles: number): Readonly<Record<string, string>> => ({
  'AFTER_CYCLES   = 69 ': `AFTER_CYCLES   = ${69 + cycles} `,
  'shown:  lda next_step,x': `shown:  .repeat ${cycles / 2}\n        nop\n        .endrepeat\n        lda next_step,x`,
});

/** Boxes of 16 dots: the third row and column of sprites lie on the second, in as many cycles. */
export const MARGIN_0: Readonly<Record<string, string>> = {
  'MARGIN      = 4 ': 'MARGIN      = 0 ',
  '        adc #8\n        sta flash + 24\n': '        adc #0\n        sta flash + 24\n',
  '        adc #8\n        sta flash + 11\n': '        adc #0\n        sta flash + 11\n',
};
const stores = (...bytes: readonly number[]): string => bytes.map((at) => `        sta flash + ${at}\n`).join('');
/** Boxes of 32 dots: a fourth row and column, sprites 9 to 15; 14 stores and two additions more. */
export const MARGIN_8: Readonly<Record<string, string>> = {
  'MARGIN      = 4 ': 'MARGIN      = 8 ',
  'SHOW_CYCLES    = 668 ': 'SHOW_CYCLES    = 728 ',
  // With the 46 bytes of the sprites a whole page: what lies behind crosses pages where it did.
  '; Tables first, so': '        .res 210\n; Tables first, so',
  '        ldx #9 * 4\n': '        ldx #16 * 4\n',
  [stores(8)]: stores(8, 48),
  [stores(20)]: stores(20, 52),
  [stores(32)]: `${stores(32, 56)}        adc #8\n${stores(36, 40, 44, 60)}`,
  [stores(27)]: stores(27, 39),
  [stores(31)]: stores(31, 43),
  [stores(35)]: `${stores(35, 47)}        adc #8\n${stores(51, 55, 59, 63)}`,
};

export const calibratedWith = (...changes: readonly Readonly<Record<string, string>>[]): ScenarioFiles =>
  changedFiles('calibrated', Object.assign({}, ...changes));
