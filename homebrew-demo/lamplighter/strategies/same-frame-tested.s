; Same frame, tested: as same-frame-untested, but the end of the black picture must have been dark.
; What it costs and where it fails: same-frame-tested.md

        .segment "ZEROPAGE"
isBlind:        .res 1          ; bit 7: the black picture did not put out the light; what follows proves nothing
        .segment "CODE"

        .include "same-frame.s"

; Carry set: decided, the verdict in A. Carry clear: undecided.
decide: ldx frame
        dex                     ; the picture that has ended
        beq @black
        lda script,x
        cmp #SHOW_SCENE
        beq @none               ; all boxes have been shown
        bit isBlind
        bmi @undecided
        ldy sawLight
        beq @undecided
        sec                     ; the number of a box is the number of the verdict
        rts
@none:  lda #0
        sec
        rts
@black: lda isLit               ; light that the black picture did not put out is not the flash
        sta isBlind
@undecided:
        clc
        rts
