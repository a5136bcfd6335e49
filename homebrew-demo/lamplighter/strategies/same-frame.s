; `plan` of the strategies that ask in the same frame: one black picture, then one picture for each target's box.

BOX_FRAMES = 1

        .include "frames.s"

; The script: black, box, box, box. Boxes stand where the targets are now.
plan:   lda #SHOW_SCENE
        jsr fill_script
        lda #SHOW_BLACK
        sta script
        lda #1
        jsr add_boxes_here
        lda #$FF
        sta lastFrame
        rts
