; The pad in port 1.

; `buttons` = what is held, `pressed` = what was not held the frame before.
read_pad:
        lda buttons
        sta temp
        lda #1
        sta PAD
        lda #0
        sta PAD
        ldx #8
@next:  lda PAD
        lsr a
        rol buttons             ; the first button ends up in the highest bit
        dex
        bne @next
        lda temp
        eor #$FF
        and buttons
        sta pressed
        rts

; A = the next random number, 0 to 255. A shift register of 16 bits; it never becomes 0.
next_random:
        lda random
        ldy #8
@shift: asl a
        rol random + 1
        bcc @next
        eor #$39
@next:  dey
        bne @shift
        sta random
        rts
