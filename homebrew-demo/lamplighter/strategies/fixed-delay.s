; Fixed delay: black pictures, each box for two pictures; the light of every picture is looked for DELAY_FRAMES later.
; What it costs and where it fails: fixed-delay.md

DELAY_FRAMES = 3                ; whole frames that the screen is taken to be late: 3 are 50 ms at 60 Hz
BLACK_FRAMES = 2
BOX_FRAMES   = 2

        .segment "ZEROPAGE"
isBlind:        .res 1          ; bit 7: the black picture did not put out the light; what follows proves nothing
        .segment "CODE"

        .include "frames.s"

; The script: black, black, box, box, ... Boxes stand where the targets were when the screen took them over.
plan:   lda #SHOW_SCENE
        jsr fill_script
        ldx #BLACK_FRAMES - 1
        lda #SHOW_BLACK
@black: sta script,x
        dex
        bpl @black
        ldx #TARGETS - 1
@back:  lda #DELAY_FRAMES + 1
        jsr place_box
        dex
        bpl @back
        ldx #BLACK_FRAMES
        jsr add_boxes
        lda #$FF
        sta lastFrame
        rts

; Carry set: decided, the verdict in A. Carry clear: undecided.
decide: lda frame               ; frame - 1 has ended; what it shows on the glass was sent DELAY_FRAMES earlier
        sec
        sbc #DELAY_FRAMES + 1
        bcc @undecided
        tax
        lda script,x
        cmp #SHOW_SCENE
        beq @none               ; all boxes have been looked for
        cmp #SHOW_BLACK
        beq @black
        bit isBlind
        bmi @undecided
        ldy sawLight
        beq @undecided
        sec                     ; the number of a box is the number of the verdict
        rts
@none:  lda #0
        sec
        rts
@black: lda isLit               ; the end of the last black picture must be dark
        sta isBlind
@undecided:
        clc
        rts
