; Plain work for a processor: sieve, checksum, bubble sort, multiplication, calls. No input, no output; A = 0 at the end.
; Kept out, since the outside counter gets them wrong: ROL absolute,X, and branches into another page (all loops are short
; and each routine starts a page).

EXIT = $fff9
ROUNDS = 8              ; times 256

.segment "HEADER"        ; as the outside counter loads it
        .byte "sim65", 2, 0, 0
        .addr start, start

.segment "ZEROPAGE": zeropage
round:     .res 2
crc:       .res 2
factor:    .res 1
other:     .res 1
product:   .res 2
pointer:   .res 2
swapped:   .res 1
count:     .res 1
seed:      .res 1

.segment "BSS"
flags:     .res 256
list:      .res 64
block:     .res 256

.segment "CODE"
.align 256
start:
        lda #0
        sta round
        lda #ROUNDS
        sta round+1
next_round:
        jsr sieve
        jsr checksum
        jsr shuffle
        jsr sort
        jsr multiply_table
        jsr calls
        dec round
        bne next_round
        dec round+1
        bne next_round
        lda #0
        jmp EXIT

; Odd primes below 512: flags[i] stands for 2 i + 3.
.align 256
sieve:
        ldx #0
        lda #1
fill:   sta flags,x
        inx
        bne fill
        ldx #0
sieve_next:
        lda flags,x
        beq sieve_skip
        txa
        asl a
        adc #3
        sta factor
        txa
        clc
        adc factor
        bcs sieve_skip
strike: tay
        lda #0
        sta flags,y
        tya
        clc
        adc factor
        bcc strike
sieve_skip:
        inx
        cpx #10
        bne sieve_next
        rts

; CRC-16, polynomial $1021, over a block that changes each round.
.align 256
checksum:
        lda #$ff
        sta crc
        sta crc+1
        ldx #0
crc_byte:
        lda block,x
        eor crc+1
        sta crc+1
        ldy #8
crc_bit:
        asl crc
        rol crc+1
        bcc crc_even
        lda crc
        eor #$21
        sta crc
        lda crc+1
        eor #$10
        sta crc+1
crc_even:
        dey
        bne crc_bit
        inx
        cpx #64
        bne crc_byte
        lda crc
        ldx round
        sta block,x
        rts

.align 256
shuffle:
        lda #<list
        sta pointer
        lda #>list
        sta pointer+1
        ldy #63
        lda seed
shuffle_next:
        asl a
        bcc shuffle_store
        eor #$1d
shuffle_store:
        adc #7
        sta (pointer),y
        dey
        bpl shuffle_next
        sta seed
        rts

; Bubble sort of 64 bytes.
.align 256
sort:
        lda #0
        sta swapped
        ldx #0
sort_pair:
        lda list,x
        cmp list+1,x
        bcc sort_keep
        beq sort_keep
        pha
        lda list+1,x
        sta list,x
        pla
        sta list+1,x
        inc swapped
sort_keep:
        inx
        cpx #63
        bne sort_pair
        lda swapped
        bne sort
        rts

; 16 x 16 products by shift and add.
.align 256
multiply_table:
        lda #15
        sta count
multiply_next:
        lda count
        sta factor
        eor seed
        sta other
        jsr multiply
        lda product
        eor product+1
        sta seed
        dec count
        bpl multiply_next
        rts

.align 256
multiply:
        lda #0
        sta product
        ldx #8
multiply_bit:
        lsr other
        bcc multiply_shift
        clc
        adc factor
multiply_shift:
        ror a
        ror product
        dex
        bne multiply_bit
        sta product+1
        rts

.align 256
calls:  ldx #200
calls_next:
        jsr outer
        dex
        bne calls_next
        rts
outer:  jsr inner
        jsr inner
        rts
inner:  iny
        rts
