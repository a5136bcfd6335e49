; The title: from here everything is reached.

title:  jsr blank_picture
        jsr load_colours
        lda #1                  ; the second row of houses
        jsr draw_dusk
        jsr draw_logo
        ldx #<title_texts
        ldy #>title_texts
        jsr draw_texts
        jsr clear_places
        jsr title_lamps
        jsr forget_places
        jsr show_places
        jsr show_picture
title_frame:
        jsr wait_frame
        jsr read_pad
        inc clockTick
        jsr next_random         ; when the player starts decides what comes
        jsr show_places
        jsr is_pulled
        lda #SCREEN_STREET
        bcs begin
        ldx pressed
        cpx #BUTTON_START
        beq begin
        cpx #BUTTON_SELECT
        beq @practice
        .if IS_CALIBRATED
        cpx #BUTTON_B
        beq @wand
        .endif
        bne title_frame
@practice:
        lda #SCREEN_PRACTICE
        bne begin
        .if IS_CALIBRATED
@wand:  lda #SCREEN_TITLE
        sta afterwards
        jmp calibration_screen
        .endif

; Begin with screen A; who has not set the wand yet does that before.
begin:  sta afterwards
        .if IS_CALIBRATED
        lda calibration
        cmp #CALIBRATION_GOOD
        beq go_on
        jmp calibration_screen
        .endif

; Go on with the screen in `afterwards`.
go_on:  ldx afterwards
        beq @title
        dex
        beq @street
        jmp practice
@title: jmp title
@street:
        jmp first_street

; Two burning lamps beside the menu.
title_lamps:
        ldx #TARGETS - 1
@lamp:  lda title_lamp_x,x
        sta lampX,x
        lda title_lamp_y,x
        sta lampY,x
        lda #PLACE_CALM
        sta placeState,x
        dex
        bpl @lamp
        rts

; The name of the game: eleven letters of two by two tiles.
draw_logo:
        lda #0
        sta count               ; upper half, then lower half
@half:  lda #>(NAMES + 11 * 32)
        sta temp
        lda #<(NAMES + 11 * 32 + 5)
        ldx count
        beq @upper
        clc
        adc #32
@upper: tax
        lda temp
        jsr set_address
        ldx #0
@letter:
        lda logo,x
        clc
        adc count
        sta PPUDATA
        adc #1
        sta PPUDATA
        inx
        cpx #11
        bne @letter
        lda count
        eor #2
        sta count
        bne @half
        rts

        .segment "RODATA"
title_lamp_x:   .byte 36, 124, 204
title_lamp_y:   .byte 40, 24, 40
        .segment "CODE"
