; Arithmetic with 24 bits, lowest byte first; all of these use A.

        .macro copy3 from, to
        lda from
        sta to
        lda from + 1
        sta to + 1
        lda from + 2
        sta to + 2
        .endmacro

; to = to + value
        .macro add3 to, value
        clc
        lda to
        adc value
        sta to
        lda to + 1
        adc value + 1
        sta to + 1
        lda to + 2
        adc value + 2
        sta to + 2
        .endmacro

; to = to - value; carry clear when that is negative
        .macro subtract3 to, value
        sec
        lda to
        sbc value
        sta to
        lda to + 1
        sbc value + 1
        sta to + 1
        lda to + 2
        sbc value + 2
        sta to + 2
        .endmacro

; Carry set when left >= right, both without a sign.
        .macro compare3 left, right
        lda left
        cmp right
        lda left + 1
        sbc right + 1
        lda left + 2
        sbc right + 2
        .endmacro

; A 16-bit value as 24 bits.
        .macro widen from, to
        lda from
        sta to
        lda from + 1
        sta to + 1
        lda #0
        sta to + 2
        .endmacro
