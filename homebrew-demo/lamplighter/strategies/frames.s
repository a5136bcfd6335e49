; `watch` for strategies that ask one question a frame: was there light in the picture that has just ended?
;
; It polls every 14 cycles from the end of one NMI handler to the next NMI. Then `decide` is asked, once a frame.
;   sawLight   not 0: some read of this frame saw light
;   isLit      bit 7: the last read saw light

        .segment "ZEROPAGE"
sawLight:       .res 1
isLit:          .res 1
        .segment "CODE"

; Returns the verdict in A.
watch:  lda newFrame            ; the first picture of the script begins
        beq watch
next_frame:
        lda #0
        sta newFrame
        sta sawLight
; exactly 14 cycles from here
@dark:  lda GUN
        and #LIGHT
        beq @light
        lda newFrame
        beq @dark
; to here
        lda #0
        beq @ended              ; always
@light: lda #1
        sta sawLight
; exactly 14 cycles from here
@lit:   lda GUN
        and #LIGHT
        bne @dark
        lda newFrame
        beq @lit
; to here
        lda #$80
@ended: sta isLit
        jsr decide
after_decide:
        bcc next_frame
        rts
