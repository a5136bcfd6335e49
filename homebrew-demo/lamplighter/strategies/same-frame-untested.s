; Same frame, untested: one black picture, then one picture for each target's box. Light in the picture of a box is a hit.
; What it costs and where it fails: same-frame-untested.md

        .include "same-frame.s"

; Carry set: decided, the verdict in A. Carry clear: undecided.
decide: ldx frame
        dex                     ; the picture that has ended
        beq @undecided          ; it was the black one
        lda script,x
        cmp #SHOW_SCENE
        beq @none               ; all boxes have been shown
        ldy sawLight
        beq @undecided
        sec                     ; the number of a box is the number of the verdict
        rts
@none:  lda #0
        sec
        rts
@undecided:
        clc
        rts
