; The screen on which the wand is set to the picture: a mark to aim at, then what was found, in words.

CALM_FRAMES = 100               ; so long a good result stays before the game goes on by itself

calibration_screen:
        jsr blank_picture
        jsr load_colours
        jsr clear_picture
        jsr forget_places
        jsr hide_all
        ldx #<calibration_texts
        ldy #>calibration_texts
        jsr draw_texts
        jsr draw_mark
        jsr show_picture
@frame: jsr wait_frame
        jsr read_pad
        lda pressed
        cmp #BUTTON_B
        beq to_title
        jsr is_pulled
        bcc @frame
        jsr calibrate
        lda second              ; no other flash within a second
        sta shotWait
        jsr show_result
        lda #CALM_FRAMES
        sta count
@result:
        jsr wait_frame
        jsr read_pad
        jsr is_pulled
        bcs @pulled
        lda pressed
        cmp #BUTTON_B
        beq to_title
        lda calibration
        bmi @result
        dec count
        bne @result
@pulled:
        lda calibration
        bmi calibration_screen  ; refused: try again
        jmp go_on
to_title:
        jmp title

; The mark in the middle of the picture.
draw_mark:
        lda #14
        sta row
        lda #TILE_MARK
        sta count
@row:   lda #15
        sta column
        jsr row_address
        lda count
        sta PPUDATA
        clc
        adc #1
        sta PPUDATA
        adc #1
        sta count
        inc row
        lda row
        cmp #16
        bne @row
        rts

; What was found: the delay, or the reason and the times that led to it.
show_result:
        jsr blank_picture
        jsr clear_picture
        lda calibration
        bmi @refused
        ldx #<good_texts
        ldy #>good_texts
        jsr draw_texts
        jsr draw_delay
        jmp show_picture
@refused:
        ldx #<refused_texts
        ldy #>refused_texts
        jsr draw_texts
        lda calibration
        and #$7F
        tax
        ldy reason_high - 1,x
        lda reason_low - 1,x
        tax
        jsr draw_texts
        ldx calibration
        cpx #REFUSED_OTHER_LIGHT
        beq @show
        cpx #REFUSED_NO_LIGHT
        beq @show
        lda #>(NAMES + 15 * 32 + 4)
        ldx #<(NAMES + 15 * 32 + 4)
        jsr set_address
        copy3 refusalValue, sum
        jsr draw_time
        ldx calibration
        cpx #REFUSED_NOT_STEADY
        beq @second
        cpx #REFUSED_NOT_SCREEN
        bne @show
@second:
        ldx #<then_text
        ldy #>then_text
        jsr draw_more
        copy3 refusalValue + 3, sum
        jsr draw_time
@show:  jmp show_picture

; "THE SCREEN IS n FRAMES" and "AND m SCANLINES LATE".
draw_delay:
        lda delayUnits          ; scanlines = units x 8
        sta sum
        lda delayUnits + 1
        ldx #3
@eight: asl sum
        rol a
        dex
        bne @eight
        sta sum + 1
        ldx #0
@frame: lda sum
        sec
        sbc frameLines
        tay
        lda sum + 1
        sbc frameLines + 1
        bcc @rest
        sta sum + 1
        sty sum
        inx
        bne @frame
@rest:  lda sum
        pha
        lda sum + 1
        pha
        stx sum
        lda #0
        sta sum + 1
        lda #>(NAMES + 13 * 32 + 5)
        ldx #<(NAMES + 13 * 32 + 5)
        jsr set_address
        ldx #<screen_text
        ldy #>screen_text
        jsr draw_more
        jsr draw_number
        ldx #<frames_text
        ldy #>frames_text
        jsr draw_more
        lda #>(NAMES + 15 * 32 + 5)
        ldx #<(NAMES + 15 * 32 + 5)
        jsr set_address
        ldx #<and_text
        ldy #>and_text
        jsr draw_more
        pla
        sta sum + 1
        pla
        sta sum
        jsr draw_number
        ldx #<scanlines_text
        ldy #>scanlines_text

; Characters up to a 0, from where the picture address stands. X, Y = their address.
draw_more:
        stx pointer
        sty pointer + 1
        ldy #0
@next:  lda (pointer),y
        sec
        sbc #' '
        bcc @done
        sta PPUDATA
        iny
        bne @next
@done:  rts

; The time in sum (sixteenths of a slot) in whole milliseconds.
draw_time:
        copy3 millisecond3, term
        lda #0
        sta best
        sta best + 1
@take:  subtract3 sum, term
        bcc @done
        inc best
        bne @take
        inc best + 1
        bne @take
@done:  lda best
        sta sum
        lda best + 1
        sta sum + 1
        jsr draw_number
        ldx #<ms_text
        ldy #>ms_text
        bne draw_more           ; always

; The number in sum, without zeros in front.
draw_number:
        jsr to_digits
        ldx #3
@zero:  lda digits,x
        bne @digit
        dex
        bne @zero
@digit: lda digits,x
        clc
        adc #TILE_DIGITS
        sta PPUDATA
        dex
        bpl @digit
        rts
