; The practice street: three targets high, in the middle and low, for as long as one likes. A changes from lamps, which
; stand still, to moths and back; Start sets the wand anew; B goes back to the title.

practice:
        jsr blank_picture
        jsr load_colours
        lda #$FF                ; no houses
        jsr draw_dusk
        ldx #<practice_texts
        ldy #>practice_texts
        jsr draw_texts
        jsr clear_places
        ldx #TARGETS - 1
@lamp:  lda practice_x,x
        sta lampX,x
        lda practice_y,x
        sta lampY,x
        lda practice_angle,x
        sta mothAngle,x
        lda #0
        sta mothSide,x
        dex
        bpl @lamp
        lda #0
        sta movesTargets
        lda #$FF
        sta mothSpeed
        jsr forget_places
        jsr practice_step
        jsr show_picture
practice_frame:
        jsr wait_frame
        jsr read_pad
        jsr is_pulled
        bcc @pad
        jsr shoot
        tax
        beq @pad
        dex
        jsr start_spark
@pad:   lda pressed
        and #BUTTON_A
        beq @same
        lda movesTargets
        eor #1
        sta movesTargets
@same:  jsr practice_step
        lda pressed
        cmp #BUTTON_B
        beq @title
        .if IS_CALIBRATED
        cmp #BUTTON_START
        beq @wand
        .endif
        jmp practice_frame
@title: jmp title
        .if IS_CALIBRATED
@wand:  lda #SCREEN_PRACTICE
        sta afterwards
        jmp calibration_screen
        .endif

; One frame: lamps that never stay lit, or moths that never tire.
practice_step:
        ldx #TARGETS - 1
@place: lda #PLACE_UNLIT
        ldy movesTargets
        beq @state
        lda #PLACE_CIRCLING
@state: sta placeState,x
        lda #$FF
        sta placeTimer,x
        dex
        bpl @place
        jsr move_places
        jsr show_places
        jmp remember_places
