; Changes of the picture while it is shown: they wait in the queue until the NMI handler sends them.
; One run: address high, address low, count, then the bytes. A frame builds its runs and calls queue_end.

; Begin a run of A bytes at the picture address X (high), Y (low).
queue_run:
        sta temp
        sty temp2
        ldy queueAt
        txa
        sta queue,y
        lda temp2
        sta queue + 1,y
        lda temp
        sta queue + 2,y
        iny
        iny
        iny
        sty queueAt
        rts

; One byte of the run. Keeps X.
queue_byte:
        ldy queueAt
        sta queue,y
        inc queueAt
        rts

; Everything of this frame is in the queue.
queue_end:
        ldy queueAt
        beq @nothing
        lda #0
        sta queue,y
        lda #$80
        sta queueReady
@nothing:
        rts
