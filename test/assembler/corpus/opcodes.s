; Every instruction in every form, documented and undocumented, with each way to write its operand.

        .segment "HEADER"
        .byte $4E, $45, $53, $1A, 2, 1, 0, 8
        .res 8

        .segment "ZEROPAGE"
zero:   .res 1

        .setcpu "6502X"
        .code
start:

; adc
        adc ($12,x)
        adc $12
        adc z:later
        adc zero
        adc #$12
        adc $1234
        adc a:$12
        adc later
        adc ($12),y
        adc $12,x
        adc $1234,y
        adc $1234,x

; alr
        alr #$12

; anc
        anc #$12

; and
        and ($12,x)
        and $12
        and z:later
        and zero
        and #$12
        and $1234
        and a:$12
        and later
        and ($12),y
        and $12,x
        and $1234,y
        and $1234,x

; ane
        ane #$12

; arr
        arr #$12

; asl
        asl $12
        asl z:later
        asl zero
        asl
        asl a
        asl $1234
        asl a:$12
        asl later
        asl $12,x
        asl $1234,x

; axs
        axs #$12

; bcc
near0: bcc near0

; bcs
near1: bcs near1

; beq
near2: beq near2

; bit
        bit $12
        bit z:later
        bit zero
        bit $1234
        bit a:$12
        bit later

; bmi
near3: bmi near3

; bne
near4: bne near4

; bpl
near5: bpl near5

; brk
        brk

; bvc
near6: bvc near6

; bvs
near7: bvs near7

; clc
        clc

; cld
        cld

; cli
        cli

; clv
        clv

; cmp
        cmp ($12,x)
        cmp $12
        cmp z:later
        cmp zero
        cmp #$12
        cmp $1234
        cmp a:$12
        cmp later
        cmp ($12),y
        cmp $12,x
        cmp $1234,y
        cmp $1234,x

; cpx
        cpx #$12
        cpx $12
        cpx z:later
        cpx zero
        cpx $1234
        cpx a:$12
        cpx later

; cpy
        cpy #$12
        cpy $12
        cpy z:later
        cpy zero
        cpy $1234
        cpy a:$12
        cpy later

; dcp
        dcp ($12,x)
        dcp $12
        dcp z:later
        dcp zero
        dcp $1234
        dcp a:$12
        dcp later
        dcp ($12),y
        dcp $12,x
        dcp $1234,y
        dcp $1234,x

; dec
        dec $12
        dec z:later
        dec zero
        dec $1234
        dec a:$12
        dec later
        dec $12,x
        dec $1234,x

; dex
        dex

; dey
        dey

; eor
        eor ($12,x)
        eor $12
        eor z:later
        eor zero
        eor #$12
        eor $1234
        eor a:$12
        eor later
        eor ($12),y
        eor $12,x
        eor $1234,y
        eor $1234,x

; inc
        inc $12
        inc z:later
        inc zero
        inc $1234
        inc a:$12
        inc later
        inc $12,x
        inc $1234,x

; inx
        inx

; iny
        iny

; isc
        isc ($12,x)
        isc $12
        isc z:later
        isc zero
        isc $1234
        isc a:$12
        isc later
        isc ($12),y
        isc $12,x
        isc $1234,y
        isc $1234,x

; jam
        jam

; jmp
        jmp $1234
        jmp a:$12
        jmp later
        jmp ($1234)

; jsr
        jsr $1234
        jsr a:$12
        jsr later

; las
        las $1234,y

; lax
        lax ($12,x)
        lax $12
        lax z:later
        lax zero
        lax #$12
        lax $1234
        lax a:$12
        lax later
        lax ($12),y
        lax $12,y
        lax $1234,y

; lda
        lda ($12,x)
        lda $12
        lda z:later
        lda zero
        lda #$12
        lda $1234
        lda a:$12
        lda later
        lda ($12),y
        lda $12,x
        lda $1234,y
        lda $1234,x

; ldx
        ldx #$12
        ldx $12
        ldx z:later
        ldx zero
        ldx $1234
        ldx a:$12
        ldx later
        ldx $12,y
        ldx $1234,y

; ldy
        ldy #$12
        ldy $12
        ldy z:later
        ldy zero
        ldy $1234
        ldy a:$12
        ldy later
        ldy $12,x
        ldy $1234,x

; lsr
        lsr $12
        lsr z:later
        lsr zero
        lsr
        lsr a
        lsr $1234
        lsr a:$12
        lsr later
        lsr $12,x
        lsr $1234,x

; nop
        nop $12
        nop z:later
        nop zero
        nop $1234
        nop a:$12
        nop later
        nop $12,x
        nop
        nop $1234,x
        nop #$12

; ora
        ora ($12,x)
        ora $12
        ora z:later
        ora zero
        ora #$12
        ora $1234
        ora a:$12
        ora later
        ora ($12),y
        ora $12,x
        ora $1234,y
        ora $1234,x

; pha
        pha

; php
        php

; pla
        pla

; plp
        plp

; rla
        rla ($12,x)
        rla $12
        rla z:later
        rla zero
        rla $1234
        rla a:$12
        rla later
        rla ($12),y
        rla $12,x
        rla $1234,y
        rla $1234,x

; rol
        rol $12
        rol z:later
        rol zero
        rol
        rol a
        rol $1234
        rol a:$12
        rol later
        rol $12,x
        rol $1234,x

; ror
        ror $12
        ror z:later
        ror zero
        ror
        ror a
        ror $1234
        ror a:$12
        ror later
        ror $12,x
        ror $1234,x

; rra
        rra ($12,x)
        rra $12
        rra z:later
        rra zero
        rra $1234
        rra a:$12
        rra later
        rra ($12),y
        rra $12,x
        rra $1234,y
        rra $1234,x

; rti
        rti

; rts
        rts

; sax
        sax ($12,x)
        sax $12
        sax z:later
        sax zero
        sax $1234
        sax a:$12
        sax later
        sax $12,y

; sbc
        sbc ($12,x)
        sbc $12
        sbc z:later
        sbc zero
        sbc #$12
        sbc $1234
        sbc a:$12
        sbc later
        sbc ($12),y
        sbc $12,x
        sbc $1234,y
        sbc $1234,x

; sec
        sec

; sed
        sed

; sei
        sei

; sha
        sha ($12),y
        sha $1234,y

; shx
        shx $1234,y

; shy
        shy $1234,x

; slo
        slo ($12,x)
        slo $12
        slo z:later
        slo zero
        slo $1234
        slo a:$12
        slo later
        slo ($12),y
        slo $12,x
        slo $1234,y
        slo $1234,x

; sre
        sre ($12,x)
        sre $12
        sre z:later
        sre zero
        sre $1234
        sre a:$12
        sre later
        sre ($12),y
        sre $12,x
        sre $1234,y
        sre $1234,x

; sta
        sta ($12,x)
        sta $12
        sta z:later
        sta zero
        sta $1234
        sta a:$12
        sta later
        sta ($12),y
        sta $12,x
        sta $1234,y
        sta $1234,x

; stx
        stx $12
        stx z:later
        stx zero
        stx $1234
        stx a:$12
        stx later
        stx $12,y

; sty
        sty $12
        sty z:later
        sty zero
        sty $1234
        sty a:$12
        sty later
        sty $12,x

; tas
        tas $1234,y

; tax
        tax

; tay
        tay

; tsx
        tsx

; txa
        txa

; txs
        txs

; tya
        tya

        .zeropage
later:  .res 1
        .segment "PATTERNS"
        .res 16
        .segment "VECTORS"
        .addr start, start, start
