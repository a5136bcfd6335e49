; Every command, macro feature and kind of expression that both assemblers know, in one program that makes no sense.

        .p02
        .setcpu "6502X"
        .debuginfo on
        .list on
        .listbytes 8
        .pagelen 60
        .pagelength unlimited
        .fileopt author, "the project"
        .fopt comment, "no sense"

LIGHT     = %00001000
GUN      := $4017
LATER_SUM = later + 2               ; used before it is known
round .set 0

        .define WHITE $20
        .define INDEXED buffer,x

        .segment "HEADER"
        .byte $4E, $45, $53, $1A, 2, 1, $00, $08
        .res 7
        .byte 8

        .segment "ZEROPAGE"
pointer:  .res 2
frame:    .res 1
counters: .res 4

        .segment "OAM"
        .align 256
sprites:  .res 256

        .segment "BSS": absolute
buffer:   .res 32
buffer_end:

        .export reset, nmi
        .exportzp pointer
        .global buffer
        .globalzp late_byte

; Macros: arguments, a missing one, local names, one macro in another, recursion.
        .macro store value, first, second
        lda value
        sta first
        .ifnblank second
        sta second
        .endif
        .endmacro

        .macro wait count
        .local again
        ldx #count
again:  dex
        bne again
        .endmacro

        .macro wait_twice count
        wait count
        wait {count + 1}
        .endmacro

        .macro countdown n
        .if n > 0
        .byte n
        countdown n - 1
        .else
        .exitmacro
        .endif
        .byte $EE
        .endmacro

        .macro count_arguments first, second, third
        .byte .paramcount
        .endmacro

        .mac twice value
        .byt value
        .ifblank value
        .exitmac
        .endif
        .byt value
        .endmac

        .include "parts/tables.inc"

        .code
reset:  sei
        cld
        store #WHITE, buffer
        store #<buffer, pointer, pointer + 1
        store {buffer,x}, frame
        wait 3
        wait_twice 5
        lda INDEXED
        ldy #buffer_end - buffer
@loop:  lda (pointer),y
        sta buffer - 1,y
        dey
        bne @loop
        beq :+
        jmp (pointer)
:       lda late_byte
        lda z:pointer
        lda a:pointer
        stx later,y
        lda LATER_SUM
        bne :-
        bit GUN
        and #LIGHT
        jmp reset

        .proc nmi
        pha
        inc frame
        lda frame               ; the zero page of the scope around it
        lda #>sprites
        sta $4014
@here:  pla
        rti
        .endproc

irq:    rti

        .scope strategy
limit = 7
watch:  lda #limit
        cmp buffer + limit
        bcs @lit
        rts
@lit:   lda #::LIGHT
        .scope inner
deep:   lda #limit
        ldx #limit + 1
        jmp watch
        .endscope
        .if limit = 7
        rts
        .elseif limit = 8
        nop
        .else
        brk
        .endif
        .endscope

        jsr strategy::watch
        jsr strategy::inner::deep

; Undocumented instructions.
        lax frame
        sax frame,y
        dcp (pointer,x)
        isc buffer,y
        slo buffer
        rla buffer,x
        sre (pointer),y
        rra frame,x
        anc #1
        alr #2
        arr #3
        axs #4
        nop frame
        nop buffer,x

        .rodata
        .repeat 4, i
        .byte i, i * i, <(i * 300), >(i * 300)
        .repeat 2, j
        .byte i * 16 + j
        .endrepeat
        .endrepeat
        countdown 4
        count_arguments
        count_arguments 1
        count_arguments 1, 2, 3
        count_arguments , 2
round .set round + 1
        .byte round
round .set round + 1
        .byte round
        .word reset, nmi, irq, *, * + 1
        .addr strategy::watch
        .dbyt reset, $1234
        .dword $12345678, reset
        .lobytes reset, $1234
        .hibytes reset, $1234
        .asciiz "lamp", "lighter"
        .charmap $41, 1
        .byte "ABA", 'A', 'B'
        .charmap $41, $41
        .byte "say ", 'a', "; no comment"
        .res 3, $AA
        .res 2
        .incbin "parts/tiles.bin"
        .incbin "parts/tiles.bin", 4
        .incbin "parts/tiles.bin", 2, 3
        .byte .lobyte(reset), .hibyte(reset), .bankbyte(reset)
        .word .loword($12345), .hiword($12345)
        .byte .max(1, 2), .min(1, 2), .strlen("four")
        .byte .defined(reset), .defined(nothing), .const(5), .blank(), .blank({})
        .byte 1 + 2 * 3 - 4 / 2, 7 .mod 4, 6 & 3 | 8, 6 ^ 3, 1 << 3, $80 >> 2
        .byte 3 .bitand 2, 3 .bitor 4, 3 .bitxor 1, .bitnot 0 & 15, 1 .shl 2, 8 .shr 1
        .byte 1 = 1, 1 <> 1, 1 < 2, 2 > 3, 1 <= 1, 1 >= 2
        .byte 1 && 0, 1 || 0, 1 .and 1, 0 .or 0, 1 .xor 1, !1, .not 0
        .byte (1 + 2) * 3, -(-5), ~0 & $0F, <-1, 0FFh, $ff, %101
        .byte buffer_end - buffer, * - LATER_TABLE
        .ifdef reset
        .byte 1
        .endif
        .ifndef nothing
        .byte 2
        .endif
        .ifconst LIGHT
        .byte 3
        .endif
        .ifblank
        .byte 4
        .endif
        twice 7
        .repeat 2
        .byt 9
        .endrep
        .if 0
        .error "left out"
        .fatal "left out"
        .endif
        .warning "this program makes no sense"
        .pushseg
        .bss
        .res 1
        .popseg
        .undefine INDEXED
        .undef WHITE
WHITE = 3
        .byte WHITE

        .pushseg
        .code
        nop
        .popseg
        .byte $5A

        .assert buffer_end - buffer = 32, error, "the buffer has 32 bytes"
        .assert >sprites = 2, lderror
        .assert reset >= $8000, warning, "the program lies in ROM"

        .zeropage
late_byte: .res 1
        .code
later = $55

        .segment "PATTERNS"
        .res 16, $FF
        .incbin "parts/tiles.bin"
        .segment "VECTORS"
        .addr nmi, reset, irq
        .end
        this is never read
