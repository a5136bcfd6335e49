; First Light: the smallest target program of Lamplighter.
;
; One street lamp hangs in the dark. Pull the trigger: one black picture, then one picture in which a white box stands
; where the lamp was. While that picture is sent, the program reads the light bit again and again; light means a hit.
; It looks in the frame of the flash and nowhere else, so a screen that shows the flash a frame later is never hit.
;
; Build: ca65 -g first-light.s -o first-light.o && ld65 -C ../nrom.cfg -Ln first-light.lbl -o first-light.bin first-light.o

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

LAMP_SIZE = 16              ; the lamp that the player sees, in dots
MARGIN    = 4               ; the flash box is larger by this on every side

BLACK     = $0F
WHITE     = $20

TILE_BOX  = 1               ; a full tile in colour 3
TILE_LAMP = 2               ; four tiles, row by row

        .segment "HEADER"
        .byte $4E, $45, $53, $1A
        .byte 2, 1                      ; 32 KiB program, 8 KiB patterns
        .byte $00, $08                  ; circuit 0, NES 2.0 header
        .byte 0, 0, 0, 0, 0             ; no more sizes, no RAM, 60 Hz
        .byte 0, 0, 8                   ; byte 15: light device on $4017

        .segment "ZEROPAGE"
lampX:        .res 1        ; left edge of the lamp in dots
lampY:        .res 1        ; top edge of the lamp in scanlines of the picture
frameDone:    .res 1        ; set by the NMI handler
wasPulled:    .res 1        ; trigger bit of the frame before
verdict:      .res 1        ; 0 = nothing hit, 1 = the lamp
boxX:         .res 1        ; next sprite of the box
boxY:         .res 1

        .segment "OAM"
sprites:      .res 256

        .segment "BSS"
lampColours:  .res 3        ; colours 1 to 3 of the first sprite palette, sent in every NMI

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
@clear: lda #0                          ; RAM, all sprites below the picture
        sta $00,x
        sta $0300,x
        lda #$F8
        sta sprites,x
        inx
        bne @clear
        jsr wait_vblank                 ; the raster unit ignores writes until it is warm
        jsr wait_vblank
        jsr clear_picture
        lda #120
        sta lampX
        lda #104
        sta lampY
        jsr show_lamp
        lda #%10000000                  ; NMI on, both tables at $0000
        sta PPUCTRL
        jsr wait_frame

main:   jsr wait_frame
        lda GUN
        and #TRIGGER
        tax
        eor wasPulled                   ; bit set: it changed since the last frame
        stx wasPulled
        and wasPulled                   ; ... and it is closed now
        beq main

; One shot. The pictures change in the NMI handler, so what is prepared here is seen in the next picture.
        jsr hide_all
        jsr wait_frame                  ; the black picture begins
        jsr show_box
        jsr wait_frame                  ; the flash picture begins
        jsr show_lamp                   ; prepared for the picture after it
@look:  lda GUN                         ; 4 + 2 + 2 + 3 + 3 = 14 cycles a round
        and #LIGHT
        beq @lit
        lda frameDone
        beq @look
        lda #0                          ; the frame is over and there was no light
        beq @decide
@lit:   lda #1
@decide:
        sta verdict
        jmp main

; Wait until the NMI handler has run once more.
wait_frame:
        lda #0
        sta frameDone
@wait:  lda frameDone
        beq @wait
        lda #0
        sta frameDone
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

; All sprites below the picture.
hide_all:
        ldx #0
        lda #$F8
@hide:  sta sprites,x
        inx
        inx
        inx
        inx
        bne @hide
        rts

; The lamp as the player sees it: four sprites in warm, dim colours.
show_lamp:
        jsr hide_all
        ldx #2
@copy:  lda lamp_colours,x
        sta lampColours,x
        dex
        bpl @copy
        ldx #0
        ldy #TILE_LAMP
@next:  tya                             ; tile
        sta sprites+1,x
        lda #0                          ; first palette, in front
        sta sprites+2,x
        tya                             ; tiles 2 and 4 left, 3 and 5 right
        and #1
        beq @left
        lda #8
@left:  clc
        adc lampX
        sta sprites+3,x
        lda lampY
        sec
        sbc #1                          ; a sprite is shown one scanline below its Y
        cpy #TILE_LAMP + 2
        bcc @top
        clc
        adc #8
@top:   sta sprites,x
        inx
        inx
        inx
        inx
        iny
        cpy #TILE_LAMP + 4
        bne @next
        rts

; The flash: three by three full tiles in white, MARGIN dots more than the lamp on every side.
show_box:
        lda #WHITE
        sta lampColours
        sta lampColours+1
        sta lampColours+2
        lda lampY
        sec
        sbc #MARGIN + 1
        sta boxY
        ldx #0
@row:   lda lampX
        sec
        sbc #MARGIN
        sta boxX
        ldy #3
@tile:  lda boxY
        sta sprites,x
        lda #TILE_BOX
        sta sprites+1,x
        lda #0
        sta sprites+2,x
        lda boxX
        sta sprites+3,x
        clc
        adc #8
        sta boxX
        inx
        inx
        inx
        inx
        dey
        bne @tile
        lda boxY
        clc
        adc #8
        sta boxY
        cpx #9 * 4
        bne @row
        rts

; Once a frame: sprites, colours, scroll, then tell the main program.
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
        lda #$11
        sta PPUADDR
        ldx #0
@send:  lda lampColours,x
        sta PPUDATA
        inx
        cpx #3
        bne @send
        lda #$20                        ; scroll to the top left of the first name table
        sta PPUADDR
        lda #0
        sta PPUADDR
        lda #%00011110                  ; background and sprites, also in the left column
        sta PPUMASK
        inc frameDone
        pla
        tax
        pla
irq:    rti

        .segment "RODATA"
lamp_colours:
        .byte $07, $06, $08             ; iron, ember, glow: all too dim for the sensor

        .segment "PATTERNS"
        .res 16                         ; tile 0: empty
        .res 16, $FF                    ; tile 1: the flash box
; The lamp: an iron frame (colour 1) around a glow (colours 2 and 3), one plane after the other.
        .byte %00000001, %00000011, %00000110, %00001100, %00001001, %00001011, %00001011, %00001011
        .byte %00000000, %00000000, %00000001, %00000011, %00000111, %00000111, %00000111, %00000111
        .byte %10000000, %11000000, %01100000, %00110000, %10010000, %11010000, %11010000, %11010000
        .byte %00000000, %00000000, %10000000, %11000000, %11100000, %11100000, %11100000, %11100000
        .byte %00001011, %00001001, %00001100, %00000110, %00000011, %00000001, %00000001, %00000011
        .byte %00000111, %00000111, %00000011, %00000001, %00000000, %00000000, %00000000, %00000000
        .byte %11010000, %10010000, %00110000, %01100000, %11000000, %10000000, %10000000, %11000000
        .byte %11100000, %11100000, %11000000, %10000000, %00000000, %00000000, %00000000, %00000000

        .segment "VECTORS"
        .addr nmi, reset, irq
