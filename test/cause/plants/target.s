; First Light with everything that a plant may change as a constant. The generator puts the constants before this file:
;
;   LAMP_X, LAMP_Y        where the lamp stands (it moves by SPEED dots a frame)
;   SPEED                 dots a frame
;   REWIND                pictures that the box goes back, 0 = where the lamp is now
;   DEBOUNCE              frames for which the contact must stay closed before the program acts
;   BLACK_FRAMES          black pictures before the flash, 1 or more
;   BOX_FRAMES            pictures that the box stays
;   SKIP_FRAMES           pictures from the first of the box on in which it does not look
;   LOOK_FRAMES           pictures in which it looks
;   POLL_WAIT             rounds of 46 cycles between two reads; 0 = none
;   DECOYS                dark sprites on the box's scanlines, in front of it in sprite memory
;   NMI_WASTE             rounds of 46 cycles in the handler before it writes the picture's memory
;   CONTROL               what is written to PPUCTRL when the shot begins
;   JAM_AT                0 = nowhere, 1 = when the shot begins, 2 = when it has looked
;   LIGHT_PORT            $4016 or $4017: where the light is read
;   LIT                   0 = bit 3 is 0 while light is seen, else the other way round
;   SKY, LAMP, BOX        colours of the backdrop, the lamp and the box
;   LAST_DARK             1 = the last read of the black pictures must be dark, else none
;   PAD_STOPS             1 = while button A of the pad in port 1 is held it takes no shot: none
;   SKIP_DARK             1 = the last read of the pictures in which it does not look must be dark, else none

        .setcpu "6502"

PPUCTRL   = $2000
PPUMASK   = $2001
PPUSTATUS = $2002
OAMADDR   = $2003
PPUADDR   = $2006
PPUDATA   = $2007
OAMDMA    = $4014
APUFRAME  = $4017
GUN       = $4017
PADS      = $4016
LIGHT     = %00001000
TRIGGER   = %00010000
MARGIN    = 4
BLACK     = $0F
TILE_BOX  = 1
TILE_DARK = 2
RING      = 64

        .segment "HEADER"
        .byte $4E, $45, $53, $1A
        .byte 2, 1
        .byte $00, $08
        .byte 0, 0, 0, 0
        .byte 2, 0, 0, 8

        .segment "ZEROPAGE"
lampX:        .res 1
lampY:        .res 1
frameDone:    .res 1
closedFor:    .res 1        ; frames for which the contact has been closed
verdict:      .res 1
boxX:         .res 1        ; left edge of the box
boxY:         .res 1
column:       .res 1
row:          .res 1
ringAt:       .res 1
backdrop:     .res 1
stands:       .res 1        ; 1: the lamp stands still, a shot is under way
count:        .res 1
isLit:        .res 1

        .segment "OAM"
sprites:      .res 256

        .segment "BSS"
colours:      .res 3
ringX:        .res RING

        .segment "CODE"
reset:  sei
        cld
        ldx #$40
        stx APUFRAME
        ldx #$FF
        txs
        inx
        stx PPUCTRL
        stx PPUMASK
@clear: lda #0
        sta $00,x
        sta $0300,x
        lda #$F8
        sta sprites,x
        inx
        bne @clear
        jsr wait_vblank
        jsr wait_vblank
        jsr clear_picture
        lda #LAMP_X
        sta lampX
        ldx #RING - 1
@ring:  sta ringX,x
        dex
        bpl @ring
        lda #LAMP_Y
        sta lampY
        jsr show_lamp
        lda #%10000000
        sta PPUCTRL
        jsr wait_frame

main:   jsr wait_frame
        jsr move_lamp
        lda GUN
        and #TRIGGER
        beq @open
        inc closedFor
        lda closedFor
        cmp #DEBOUNCE + 1
        bne main
        beq @shot
@open:  lda #0
        sta closedFor
        beq main

@shot:  lda #1
        sta stands
        .if JAM_AT = 1
        .byte $02
        .endif
        lda #CONTROL
        sta PPUCTRL
        .if PAD_STOPS
        lda #1
        sta PADS
        sta isLit
        lda #0
        sta PADS
        lda PADS
        and #1
        beq @not_held
        lda #0
        jmp @decide
@not_held:
        .endif
        ; where the box stands
        lda ringAt
        sec
        sbc #REWIND
        and #RING - 1
        tax
        lda ringX,x
        sec
        sbc #MARGIN
        sta boxX
        lda lampY
        sec
        sbc #MARGIN
        sta boxY
        jsr hide_all
        lda #BLACK
        sta backdrop
        .repeat BLACK_FRAMES
        jsr wait_frame
        .endrepeat
        .if LAST_DARK
        lda LIGHT_PORT
        and #LIGHT
        sta isLit               ; 0 = lit
        .endif
        jsr show_box
        .repeat SKIP_FRAMES
        jsr wait_frame
        .endrepeat
        .if SKIP_DARK
        lda LIGHT_PORT
        and #LIGHT
        sta isLit               ; 0 = lit
        .endif
        jsr wait_frame
        lda #0
        sta count
; the picture of the box ends by itself when BOX_FRAMES are over: see nmi
@look:  lda LIGHT_PORT
        and #LIGHT
        .if LIT = 0
        beq @lit
        .else
        bne @lit
        .endif
        .if POLL_WAIT > 0
        ldy #POLL_WAIT
@wait:  ldx #8
@eight: dex
        bne @eight
        dey
        bne @wait
        .endif
        lda frameDone
        beq @look
        lda #0
        sta frameDone
        inc count
        lda count
        cmp #LOOK_FRAMES
        bne @look
        lda #0
        beq @decide
@lit:   lda #1
        .if LAST_DARK + SKIP_DARK
        ldx isLit
        bne @decide
        lda #0
        .endif
@decide:
        .if JAM_AT = 2
        .byte $02
        .endif
        sta verdict
        jsr show_lamp
        lda #0
        sta stands
@again: jsr wait_frame          ; the contact must open before the next shot
        lda GUN
        and #TRIGGER
        bne @again
        sta closedFor
        jmp main

; One frame of the lamp, and the place of the picture that begins next.
move_lamp:
        lda stands
        bne @still
        lda lampX
        clc
        adc #SPEED
        sta lampX
        inc ringAt
        lda ringAt
        and #RING - 1
        sta ringAt
        tax
        lda lampX
        sta ringX,x
        jsr place_lamp
@still: rts

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

clear_picture:
        lda #$20
        sta PPUADDR
        ldx #0
        stx PPUADDR
        ldy #8
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

; The lamp: two by two full tiles.
show_lamp:
        jsr hide_all
        lda #SKY
        sta backdrop
        lda #LAMP
        sta colours
        lda #BLACK
        sta colours + 1
place_lamp:
        lda lampY
        sec
        sbc #1
        sta sprites + 0
        sta sprites + 4
        clc
        adc #8
        sta sprites + 8
        sta sprites + 12
        lda #TILE_BOX
        sta sprites + 1
        sta sprites + 5
        sta sprites + 9
        sta sprites + 13
        lda #0
        sta sprites + 2
        sta sprites + 6
        sta sprites + 10
        sta sprites + 14
        lda lampX
        sta sprites + 3
        sta sprites + 11
        clc
        adc #8
        sta sprites + 7
        sta sprites + 15
        rts

show_box:
        lda #BOX
        sta colours
        ldx #0
        .if DECOYS > 0
        ldy #DECOYS * 3         ; three rows of dark sprites
@decoy: lda decoy_row - 1,y
        clc
        adc boxY
        sta sprites,x
        lda #TILE_DARK
        sta sprites + 1,x
        lda #0
        sta sprites + 2,x
        tya
        asl a
        asl a
        sta sprites + 3,x
        inx
        inx
        inx
        inx
        dey
        bne @decoy
        .endif
        lda boxY
        sec
        sbc #1
        sta row
        ldy #9
@row:   lda boxX
        sta column
@tile:  lda row
        sta sprites,x
        lda #TILE_BOX
        sta sprites + 1,x
        lda #0
        sta sprites + 2,x
        lda column
        sta sprites + 3,x
        clc
        adc #8
        sta column
        inx
        inx
        inx
        inx
        dey
        beq @done
        cpy #6
        beq @below
        cpy #3
        bne @tile
@below: lda row
        clc
        adc #8
        sta row
        jmp @row
@done:  lda #BOX_FRAMES + 1     ; the handler takes the box away
        sta boxLeft
        rts

        .if DECOYS > 0
decoy_row:
        .repeat DECOYS
        .byte <-1, 7, 15
        .endrepeat
        .endif

        .segment "ZEROPAGE"
boxLeft:      .res 1        ; pictures that the box is still to stay, and one
        .segment "CODE"

nmi:    pha
        txa
        pha
        tya
        pha
        .if NMI_WASTE > 0
        ldy #NMI_WASTE
@outer: ldx #8
@inner: dex
        bne @inner
        dey
        bne @outer
        .endif
        lda boxLeft
        beq @no_box
        dec boxLeft
        bne @no_box
        jsr hide_all
@no_box:
        lda #0
        sta OAMADDR
        lda #>sprites
        sta OAMDMA
        bit PPUSTATUS
        lda #$3F
        sta PPUADDR
        lda #$00
        sta PPUADDR
        lda backdrop
        sta PPUDATA
        lda #$3F
        sta PPUADDR
        lda #$11
        sta PPUADDR
        ldx #0
@send:  lda colours,x
        sta PPUDATA
        inx
        cpx #2
        bne @send
        lda #$20
        sta PPUADDR
        lda #0
        sta PPUADDR
        lda #%00011110
        sta PPUMASK
        inc frameDone
        pla
        tay
        pla
        tax
        pla
irq:    rti

        .segment "PATTERNS"
        .res 16
        .res 8, $FF             ; tile 1: full in colour 1
        .res 8, $00
        .res 8, $00             ; tile 2: full in colour 2, black
        .res 8, $FF

        .segment "VECTORS"
        .addr nmi, reset, irq
