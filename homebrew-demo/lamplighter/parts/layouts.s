; Texts, streets, levels, the dusk.

        .macro centred row, text
        at_address row, (32 - .strlen(text)) / 2
        .byte text, 0
        .endmacro

title_texts:
        centred 23, "START OR TRIGGER: PLAY"
        .if IS_CALIBRATED
        centred 25, "SELECT: PRACTICE  B: SET WAND"
        .else
        centred 25, "SELECT: PRACTICE"
        .endif
        centred 27, "EVERY SHOT FLASHES THE PICTURE"
        .byte 0
practice_texts:
        centred 28, "PRACTICE  A: MOVE  B: TITLE"
        .byte 0
over_texts:
        centred 11, "THE OIL HAS RUN OUT"
        at_address 13, 9
        .byte "SCORE", 0
        at_address 15, 9
        .byte "BEST", 0
        centred 20, "START OR TRIGGER: TITLE"
        .byte 0
messages:
        .byte "PAUSED  "
        .byte "        "
        .byte "MOTHS   "

        .if IS_CALIBRATED
calibration_texts:
        centred 4, "SET THE WAND TO THE SCREEN"
        centred 8, "HOLD IT STILL ON THE MARK"
        centred 10, "AND PULL THE TRIGGER"
        centred 21, "THE PICTURE WILL GO WHITE"
        centred 23, "TWICE, FOR A MOMENT"
        centred 26, "B: TITLE"
        .byte 0
good_texts:
        centred 8, "THE WAND IS SET"
        centred 21, "PULL THE TRIGGER TO GO ON"
        .byte 0
refused_texts:
        centred 8, "THE WAND COULD NOT BE SET"
        centred 21, "PULL THE TRIGGER TO TRY AGAIN"
        centred 23, "B: TITLE"
        .byte 0
screen_text:    .byte "THE SCREEN IS ", 0
frames_text:    .byte " FRAMES", 0
and_text:       .byte "AND ", 0
scanlines_text: .byte " SCANLINES LATE", 0
then_text:      .byte ", THEN ", 0
ms_text:        .byte " MS", 0
reason_low:     .byte <reason_1, <reason_2, <reason_3, <reason_4, <reason_5, <reason_6
reason_high:    .byte >reason_1, >reason_2, >reason_3, >reason_4, >reason_5, >reason_6
reason_1:
        centred 13, "OTHER LIGHT THAN THE SCREEN"
        .byte 0
reason_2:
        centred 13, "PULSE OF WRONG LENGTH"
        .byte 0
reason_3:
        centred 13, "DELAY NOT CONSTANT"
        .byte 0
reason_4:
        centred 13, "LIGHT THAT IS NOT THE SCREEN'S"
        .byte 0
reason_5:
        centred 13, "DELAY TOO LONG FOR THE RING"
        .byte 0
reason_6:
        centred 13, "NO LIGHT FROM THE SCREEN"
        .byte 0
        .endif

; Lamps: left edge 4 dots left of a tile column, so that the post stands in one column; top edge on a tile row.
practice_x:     .byte 44, 124, 204
practice_y:     .byte 28, 112, 196
practice_angle: .byte 0, 20, 40

street_x:       .byte  44, 124, 204
                .byte  60, 132, 188
                .byte  36, 108, 196
                .byte  68, 148, 212
                .byte  44, 100, 180
                .byte  36, 140, 204
street_y:       .byte 112,  80, 112
                .byte  80, 120,  56
                .byte  56,  96, 128
                .byte 120,  64,  96
                .byte  72, 128,  56
                .byte  96,  40, 112

LEVELS          = 8
level_drain:    .byte 4, 5, 6, 7, 8, 9, 10, 12
level_speed:    .byte 110, 140, 165, 190, 210, 230, 245, 255
level_delay:    .byte 60, 52, 46, 40, 36, 32, 28, 24
level_patience: .byte 110, 96, 86, 76, 68, 60, 54, 48

; The sky, row by row: from violet down to the ochre that stays bright longest; then the street.
sky_rows:
        .byte TILE_SKY + 1, TILE_SKY + 1, TILE_SKY + 2, TILE_SKY + 3, TILE_SKY + 4, TILE_SKY + 4, TILE_SKY + 5, TILE_SKY + 5
        .byte TILE_SKY + 2, TILE_SKY + 3, TILE_SKY + 3, TILE_SKY + 4, TILE_SKY + 4, TILE_SKY + 5, TILE_SKY + 5, TILE_SKY + 6
        .byte TILE_SKY + 6, TILE_SKY + 6, TILE_SKY + 6, TILE_SKY + 6, TILE_SKY + 6, TILE_SKY + 6
        .byte TILE_KERB, TILE_STONES, TILE_STONES, TILE_STONES
; Stars: places in the first rows.
STARS = 7
star_places:    .byte 34, 41, 47, 54, 61, 4, 25
sky_attributes:
        .byte %00000000, %00000000, %01010101, %01010101, %01010101, %10101010, %11111010, %11111111

; Roofs: bits 4..0 the row of the roof, bits 7..5 its shape: 0 flat, 1 rising, 2 falling, 3 chimney, 4 none.
FLAT    = 0 << 5
RISE    = 1 << 5
FALL    = 2 << 5
CHIMNEY = 3 << 5
houses:
        .byte FLAT + 18, FLAT + 18, CHIMNEY + 17, FLAT + 18, RISE + 18, RISE + 17, FALL + 17, FALL + 18
        .byte FLAT + 20, FLAT + 20, FLAT + 17, FLAT + 17, CHIMNEY + 16, FLAT + 17, RISE + 19, FALL + 19
        .byte FLAT + 21, RISE + 18, RISE + 17, RISE + 16, FALL + 16, FALL + 17, FALL + 18, FLAT + 19
        .byte FLAT + 19, CHIMNEY + 18, FLAT + 19, FLAT + 21, RISE + 18, RISE + 17, FALL + 17, FALL + 18

        .byte RISE + 19, RISE + 18, FALL + 18, FALL + 19, FLAT + 17, FLAT + 17, CHIMNEY + 16, FLAT + 17
        .byte FLAT + 19, FLAT + 19, RISE + 18, FALL + 18, FLAT + 20, FLAT + 20, CHIMNEY + 19, FLAT + 20
        .byte RISE + 18, RISE + 17, RISE + 16, FALL + 16, FALL + 17, FALL + 18, FLAT + 20, FLAT + 20
        .byte RISE + 19, FALL + 19, FLAT + 18, FLAT + 18, CHIMNEY + 17, FLAT + 18, RISE + 20, FALL + 20

; Background: upper sky, lower sky, street, text. Sprites: dark lamp, burning lamp, moth, spark and flash box.
colours:
        .byte BLACK, $03, $04, $14
        .byte BLACK, $14, $27, $37
        .byte BLACK, $07, $04, $37
        .byte BLACK, $07, $17, $37
        .byte BLACK, $0F, $00, $17
        .byte BLACK, $0F, $27, $37
        .byte BLACK, $0F, $15, $36
        .byte BLACK, $27, $38, WHITE

logo:   .byte LOGO_L, LOGO_A, LOGO_M, LOGO_P, LOGO_L, LOGO_I, LOGO_G, LOGO_H, LOGO_T, LOGO_E, LOGO_R
