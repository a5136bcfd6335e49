; Three Lanterns: the second small target program, built unlike the first.
;
; Three paper lanterns hang over the street at dusk. Pull the trigger: one black picture, then three pictures in which a
; white box stands for one lantern each, top to bottom. While a box picture is sent the program reads the light bit; the
; first box whose picture holds light is the lantern that was hit. It looks in the frame of each flash, so a screen that is
; a frame late makes it name the lantern below.
;
; The lanterns are records of four bytes, and what was hit is told by a call of "tell" with its number in "chosen".
;
; Build: ca65 -g three-lanterns.s -o three-lanterns.o
;        ld65 -C ../nrom.cfg -Ln three-lanterns.lbl -o three-lanterns.bin three-lanterns.o

        .setcpu "6502"

PPUCTRL   = $2000
PPUMASK   = $2001
PPUSTATUS = $2002
OAMADDR   = $2003
PPUADDR   = $2006
PPUDATA   = $2007
OAMDMA    = $4014
APUFRAME  = $4017           ; written: sound frame counter
GUN       = $4017           ; read: bit 3 = 0 light seen, bit 4 = 1 trigger's contact closed

LIGHT     = %00001000
TRIGGER   = %00010000

COUNT     = 3
RECORD    = 4               ; bytes of a lantern
STATE     = 0               ; bit 7: it hangs there
LEFT      = 1               ; left edge in dots
TOP       = 2               ; top edge in scanlines
OIL       = 3               ; frames until it would go out; counts down, never ends here

SIZE      = 16
MARGIN    = 4               ; the flash box is larger by this on every side
BLACK     = $0F
PAPER     = $07             ; too dim for the sensor
WHITE     = $20
TILE_BOX  = 1
NOTHING   = $FF             ; chosen: no lantern

        .segment "HEADER"
        .byte $4E, $45, $53, $1A
        .byte 2, 1                      ; 32 KiB program, 8 KiB patterns
        .byte $00, $08                  ; circuit 0, NES 2.0 header
        .byte 0, 0, 0, 0, 0             ; no more sizes, no RAM, 60 Hz
        .byte 0, 0, 8                   ; byte 15: light device on $4017

        .segment "ZEROPAGE"
frames:       .res 1        ; counted by the NMI handler
seenFrame:    .res 1
before:       .res 1        ; trigger bit of the frame before
chosen:       .res 1        ; number of the lantern, or NOTHING
current:      .res 1        ; the lantern whose box comes next
colour:       .res 1        ; of every sprite, sent in every NMI
spriteX:      .res 1
spriteY:      .res 1
columns:      .res 1
rows:         .res 1
edge:         .res 1        ; columns of what is being drawn
nextSprite:   .res 1

        .segment "OAM"
sprites:      .res 256

        .segment "BSS"
lanterns:     .res COUNT * RECORD

        .segment "CODE"
reset:  sei
        cld
        ldx #$40
        stx APUFRAME                    ; no frame interrupts
        ldx #$FF
        txs
        inx                             ; X = 0
        stx PPUCTRL
        stx PPUMASK
@clear: lda #0
        sta $00,x
        sta $0300,x
        lda #$F8                        ; all sprites below the picture
        sta sprites,x
        inx
        bne @clear
        jsr wait_vblank                 ; the raster unit ignores writes until it is warm
        jsr wait_vblank
        jsr clear_picture
        ldx #COUNT * RECORD - 1
@hang:  lda first_lanterns,x
        sta lanterns,x
        dex
        bpl @hang
        jsr show_lanterns
        lda #%10000000                  ; NMI on, both tables at $0000
        sta PPUCTRL

main:   jsr next_frame
        jsr burn
        lda GUN
        and #TRIGGER
        tax
        eor before                      ; bit set: it changed since the last frame
        stx before
        and before                      ; ... and it is closed now
        beq main

; One shot. What is prepared here stands in the next picture: while a box is shown, the next one is made ready first.
        lda #NOTHING
        sta chosen
        lda #0
        sta current
        jsr hide_all
        jsr next_frame                  ; the black picture begins
        jsr show_box
@each:  jsr next_frame                  ; the picture of "current" begins
        inc current
        jsr show_box                    ; done before its first scanline
        jsr look
        bcs @hit
        lda current
        cmp #COUNT
        bne @each
        beq @say
@hit:   ldx current
        dex
        stx chosen
@say:   jsr show_lanterns
        jsr tell
        jmp main

; Called with the answer in "chosen": a place where a sound would start.
tell:   rts

; Read the light bit until the frame is over. Carry set: there was light.
look:   lda GUN                         ; 4 + 2 + 2 + 3 + 3 + 3 = 17 cycles a round
        and #LIGHT
        beq @lit
        lda frames
        cmp seenFrame
        beq look
        clc
        rts
@lit:   sec
        rts

; The oil of each lantern goes down by one a frame, and is filled up again at its end.
burn:   ldx #OIL
@next:  dec lanterns,x
        txa
        clc
        adc #RECORD
        tax
        cpx #COUNT * RECORD
        bcc @next
        rts

; Wait for the next frame; a frame that has begun since the last call counts at once.
next_frame:
        lda frames
@wait:  cmp seenFrame
        bne @new
        lda frames
        jmp @wait
@new:   sta seenFrame
        rts

wait_vblank:
        bit PPUSTATUS
@wait:  bit PPUSTATUS
        bpl @wait
        rts

; Fill both name tables with the empty tile; every colour black.
clear_picture:
        lda #$20
        sta PPUADDR
        ldx #0
        stx PPUADDR
        ldy #8                          ; 8 x 256 bytes
        txa
@name:  sta PPUDATA
        inx
        bne @name
        dey
        bne @name
        lda #$3F
        sta PPUADDR
        stx PPUADDR
        lda #BLACK
        ldx #32
@colour:
        sta PPUDATA
        dex
        bne @colour
        rts

; All sprites below the picture; the next one to be drawn is the first.
hide_all:
        ldx #0
        stx nextSprite
        lda #$F8
@hide:  sta sprites,x
        inx
        inx
        inx
        inx
        bne @hide
        rts

; Every lantern that hangs, in dim paper.
show_lanterns:
        jsr hide_all
        lda #PAPER
        sta colour
        ldy #0
@next:  lda lanterns+STATE,y
        bpl @gone
        lda lanterns+LEFT,y
        sta spriteX
        lda lanterns+TOP,y
        sta spriteY
        lda #SIZE / 8
        jsr fill
@gone:  tya
        clc
        adc #RECORD
        tay
        cpy #COUNT * RECORD
        bcc @next
        rts

; The flash of lantern "current": a white square, MARGIN dots more than the lantern on every side; none if it is gone, nor
; after the last one.
show_box:
        jsr hide_all
        lda #WHITE
        sta colour
        lda current
        cmp #COUNT
        bcs @gone
        asl a
        asl a                           ; times RECORD
        tay
        lda lanterns+STATE,y
        bpl @gone
        lda lanterns+LEFT,y
        sec
        sbc #MARGIN
        sta spriteX
        lda lanterns+TOP,y
        sec
        sbc #MARGIN
        sta spriteY
        lda #SIZE / 8 + 1
        jmp fill
@gone:  rts

; A square of A by A tiles with its corner at spriteX, spriteY. Keeps Y.
fill:   sta edge
        sta rows
        ldx nextSprite
@row:   lda edge
        sta columns
        lda spriteX
@tile:  sta sprites+3,x
        pha
        lda spriteY
        sec
        sbc #1                          ; a sprite is shown one scanline below its Y
        sta sprites,x
        lda #TILE_BOX
        sta sprites+1,x
        lda #0
        sta sprites+2,x
        inx
        inx
        inx
        inx
        pla
        clc
        adc #8
        dec columns
        bne @tile
        lda spriteY
        clc
        adc #8
        sta spriteY
        dec rows
        bne @row
        stx nextSprite
        rts

; Once a frame: sprites, colours, scroll.
nmi:    pha
        txa
        pha
        lda #0
        sta OAMADDR
        lda #>sprites
        sta OAMDMA
        bit PPUSTATUS                   ; first write next
        lda #$3F
        sta PPUADDR
        lda #$13
        sta PPUADDR
        lda colour
        sta PPUDATA
        lda #$20                        ; scroll to the top left of the first name table
        sta PPUADDR
        lda #0
        sta PPUADDR
        lda #%00011110                  ; background and sprites, also in the left column
        sta PPUMASK
        inc frames
        pla
        tax
        pla
irq:    rti

        .segment "RODATA"
first_lanterns:
        .byte $80, 56, 48, 0
        .byte $80, 120, 104, 0
        .byte $80, 184, 160, 0

        .segment "PATTERNS"
        .res 16                         ; tile 0: empty
        .res 16, $FF                    ; tile 1: full, in colour 3

        .segment "VECTORS"
        .addr nmi, reset, irq
