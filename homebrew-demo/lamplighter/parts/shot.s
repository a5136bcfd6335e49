; The pull of the trigger, and what every strategy needs for a shot.
;
; A flash may not follow another too soon (photosensitive viewers): at least `shotPace` frames lie between two shots and
; 5 between the end of one and the next, and a second after a calibration. Pulls before that do nothing.

AFTER_SHOT = 5

; Carry set: the trigger's contact has closed since the frame before, and a shot is allowed.
is_pulled:
        lda shotWait
        beq @ready
        dec shotWait
@ready: lda port2
        and #TRIGGER
        tax
        eor trigger             ; bit set: it changed since the last frame
        stx trigger
        and trigger             ; ... and it is closed now
        beq @no
        lda shotWait
        bne @no
        sec
        rts
@no:    clc
        rts

; One shot, in the frame whose NMI saw the trigger. The world stands still meanwhile. Verdict in A and `verdict`.
shoot:  lda shotPace
        sta shotWait
        jsr plan
        jsr start_script
        jsr watch
        sta verdict
        jsr end_script
        ldx frame               ; pictures since the one after the trigger, with the one that begins now
        inx
        inx
        stx shotFrames
        lda shotWait
        sec
        sbc shotFrames
        bcc @short
        cmp #AFTER_SHOT
        bcs @wait
@short: lda #AFTER_SHOT
@wait:  sta shotWait
        jsr wait_frame
        jsr forget_pictures     ; machines that differ only in what is forgotten go on alike
@ring:  jsr remember_places     ; all these pictures had the targets where they are now
        dec shotFrames
        bne @ring
        lda verdict
        rts

; The ring: where the targets stood in the latest pictures. Call it once a frame, when the sprites are made.
remember_places:
        ldx ringAt
        inx
        cpx #RING_LENGTH
        bcc @keep
        ldx #0
@keep:  stx ringAt
        ldy #0
@next:  lda targetX,y
        sta ringX,x
        lda targetLive,y
        beq @none
        lda targetY,y
@none:  sta ringY,x
        txa
        clc
        adc #RING_LENGTH
        tax
        iny
        cpy #TARGETS
        bne @next
        rts

; There are no targets, and nothing has been shown yet.
forget_places:
        lda #0
        ldx #TARGETS - 1
@live:  sta targetLive,x
        dex
        bpl @live

; Nothing is known of what was shown.
forget_pictures:
        lda #0
        sta ringAt
        ldx #RING_LENGTH * TARGETS
@next:  sta ringX - 1,x
        sta ringY - 1,x
        dex
        bne @next
        rts

; The box of target X stands where the target was A pictures before the one that begins after the trigger. Keeps X.
place_box:
        jsr ring_place
        lda ringX,y
        sta boxX,x
        lda ringY,y
        beq no_box
        sta boxY,x
        sec
        sbc #MARGIN + 1         ; a sprite is shown one scanline below its Y
        sta boxTop + SHOW_BOX,x
        lda boxX,x
        sec
        sbc #MARGIN
        sta boxX,x
        sta boxLeft + SHOW_BOX,x
        lda boxY,x
        sec
        sbc #MARGIN
        sta boxY,x
        rts
no_box: lda #HIDDEN + 1
        sta boxY,x
        lda #HIDDEN
        sta boxTop + SHOW_BOX,x
        rts

; Y = place in the ring of target X, A pictures back.
ring_place:
        sta temp
        lda ringAt
        sec
        sbc temp
        bcs @in
        adc #RING_LENGTH
@in:    clc
        adc ring_start,x
        tay
        rts

        .segment "RODATA"
ring_start:     .byte 0, RING_LENGTH, 2 * RING_LENGTH
        .segment "CODE"

; Boxes where the targets are now, from picture A of the script on.
add_boxes_here:
        pha
        ldx #TARGETS - 1
@box:   lda #0
        jsr place_box
        dex
        bpl @box
        pla
        tax

; The boxes that there are, one after the other, BOX_FRAMES pictures each, from picture X of the script on; then X is the
; picture behind them.
add_boxes:
        ldy #0
@target:
        lda boxY,y
        cmp #HIDDEN + 1
        beq @next
        tya
        clc
        adc #SHOW_BOX
        .repeat BOX_FRAMES, i
        sta script + i,x
        .endrepeat
        .repeat BOX_FRAMES
        inx
        .endrepeat
@next:  iny
        cpy #TARGETS
        bne @target
        rts
