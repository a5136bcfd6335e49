; Arithmetic with 24 bits: multiplication, division, digits. See macros.s for the rest.

; sum = A x factor. Uses A, X.
multiply:
        sta temp
        lda #0
        sta sum
        sta sum + 1
        sta sum + 2
        ldx #8
@bit:   asl sum
        rol sum + 1
        rol sum + 2
        asl temp
        bcc @next
        clc
        lda sum
        adc factor
        sta sum
        lda sum + 1
        adc factor + 1
        sta sum + 1
        bcc @next
        inc sum + 2
@next:  dex
        bne @bit
        rts

; sum = the time of A frames.
times_frames:
        ldx framePeriod
        stx factor
        ldx framePeriod + 1
        stx factor + 1
        jmp multiply

; sum = the time of A scanlines.
times_lines:
        ldx lineTime
        stx factor
        ldx #0
        stx factor + 1
        jmp multiply

; sum = A frames and `term` slots (its low two bytes).
time_of_slot:
        jsr times_frames
        ldx #4
@shift: asl term                ; slots to sixteenths
        rol term + 1
        rol term + 2
        dex
        bne @shift
        add3 sum, term
        rts

; A = how often `term` can be taken from sum, rounded up; 0 when sum is negative. At most 127. sum is used up.
how_often:
        ldy #0
@take:  lda sum + 2
        bmi @done
        ora sum + 1
        ora sum
        beq @done
        subtract3 sum, term
        iny
        bpl @take
@done:  tya
        rts

; Four decimal digits of the 16-bit number in sum, highest first.
to_digits:
        ldx #3
        ldy #0
@place: sty digits,x            ; X counts down from the thousands
@take:  lda sum
        sec
        sbc decimals_low,x
        tay
        lda sum + 1
        sbc decimals_high,x
        bcc @next
        sta sum + 1
        sty sum
        inc digits,x
        bne @take
@next:  ldy #0
        dex
        bpl @place
        rts

        .segment "RODATA"
decimals_low:   .byte <1, <10, <100, <1000
decimals_high:  .byte >1, >10, >100, >1000
        .segment "CODE"
