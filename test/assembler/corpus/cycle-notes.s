; Notes of cycles of every kind. Each is counted by the assembler and run on the reference processor, stretch-runs.test.ts.

        .setcpu "6502X"

GUN   = $4017
LIGHT = %00001000
SHOW  = 40

        .segment "HEADER"
        .byte $4E, $45, $53, $1A, 2, 1, 0, 8
        .res 8

        .segment "ZEROPAGE"
flag:     .res 1
frame:    .res 1
pointer:  .res 2

        .segment "OAM"
sprites:  .res 256

        .segment "BSS"
buffer:   .res 64

; Arguments make the note: 5 cycles a round, one less for the last branch, 2 for the load.
        .macro pause rounds
        .local again
        ; exactly 2 + 5 * rounds - 1 cycles from here
        ldx #rounds
again:  dex
        bne again
        ; to here
        .endmacro

        .code
reset:  sei                     ; exactly 4 * 2 cycles from here
        cld
        ldx #$FF
        txs                     ; to here
        pause 4
        pause SHOW

; Both ways of the branch take 10 cycles.
        ; exactly 10 cycles from here
        lda flag
        bne @busy
        inx
        jmp @on
@busy:  nop
        nop
@on:    ; to here
        nop

; One round of the loop that waits for light: 14 cycles, the way out is not counted.
        ; exactly 14 cycles from here
look:   lda GUN
        and #LIGHT
        beq lit
        lda frame
        beq look
        ; to here

; The same with a jump back.
        ; exactly 3 + 2 + 3 cycles from here
turn:   lda frame
        bne lit
        jmp turn
        ; to here
lit:

; A pointer that may cross a page, and a branch that nobody knows.
        ; 5 to 6 cycles from here
        lda (pointer),y
        ; to here
        nop
        ; 6 to 7 cycles from here
        lda flag
        beq :+
        nop
:       ; to here
        nop

; Sprite DMA: 513 or 514 cycles behind the store.
        ; 2 + 4 + 513 to 2 + 4 + 514 cycles from here
        lda #>sprites
        sta $4014
        ; to here
        nop

; Nested loops, counting up, a sum and shifts.
        ; exactly 2 + 3 * (2 + 7 * 5 - 1 + 2 + 3) - 1 cycles from here
        ldy #3
@outer: ldx #7
@inner: dex
        bne @inner
        dey
        bne @outer
        ; to here
        nop
        ; exactly 2 + 4 * 7 - 1 cycles from here
        ldx #1
:       inx
        cpx #5
        bne :-
        ; to here
        nop
        ; exactly 2 + 2 + 4 * 5 - 1 + 2 + 8 * 5 - 1 cycles from here
        lda #0
        clc
:       adc #$40
        bcc :-
        lda #$80
:       lsr a
        bcc :-
        ; to here
        nop

; A table inside one page: no crossing while the index stays in it; one across: known indexes.
        ; exactly 4 + 2 + 2 + 4 cycles from here
        lda buffer
        and #7
        tax
        lda inside,x
        ; to here
        nop
        ; exactly 2 + 4 + 2 + 5 cycles from here
        ldx #0
        lda across,x
        ldx #4
        lda across,x
        ; to here
        nop

; Repetitions, skipped bytes, stores and undocumented instructions.
        ; exactly 6 * 2 + 3 + 2 + 4 + 5 + 6 cycles from here
        .repeat 6
        nop
        .endrepeat
        lda flag
        .byte $2C               ; the next two bytes are its operand
        lda #5
        .res 0
        ldy #1
        sta buffer,y
        lax (pointer,x)
        ; to here
        jmp reset

; Subroutines: counted to their end, each way in its own note.
        ; exactly 6 + 2 + 6 + 6 + 16 + 4 + 6 cycles from here
        jsr short
        jsr long
        ; to here
        rts

        ; exactly 8 cycles from here
short:  nop
        rts
        ; to here

long:   pause 3
        nop
        nop
        rts

        ; exactly 5 + 3 + 4 + 6 cycles from here
nmi:    inc frame
        pha
        pla
irq:    rti
        ; to here

; Up to eight bytes before the end of a page; the program begins at one.
        .res $100 - 12 - ((* - reset) & $FF)
inside: .res 8, 1
across: .res 8, 2

        .segment "PATTERNS"
        .res 16
        .segment "VECTORS"
        .addr nmi, reset, irq
