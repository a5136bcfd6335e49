; Sprites of the scene, made anew for every frame.

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

; The page of the flash box: nine full tiles in white; NMI puts them into their places.
hide_flash:
        ldx #0
        lda #$F8
@hide:  sta flash,x
        inx
        inx
        inx
        inx
        bne @hide
        ldx #9 * 4
@box:   lda #TILE_BOX
        sta flash - 3,x
        lda #3                  ; the white of the fourth palette
        sta flash - 2,x
        dex
        dex
        dex
        dex
        bne @box
        rts

begin_sprites:
        lda #0
        sta spriteAt
        rts

; Hide the rest.
end_sprites:
        ldx spriteAt
        beq @done               ; all 64 are in use
        lda #$F8
@hide:  sta sprites,x
        inx
        inx
        inx
        inx
        bne @hide
@done:  rts

; 16 x 16 dots from four tiles, row by row: `column`, `row` = left and top, A = first tile, Y = palette.
put_sprite:
        ldx spriteAt
        sta sprites + 1,x
        clc
        adc #1
        sta sprites + 5,x
        adc #1
        sta sprites + 9,x
        adc #1
        sta sprites + 13,x
        tya
        sta sprites + 2,x
        sta sprites + 6,x
        sta sprites + 10,x
        sta sprites + 14,x
        ldy row
        dey                     ; a sprite is shown one scanline below its Y
        tya
        sta sprites + 0,x
        sta sprites + 4,x
        clc
        adc #8
        sta sprites + 8,x
        sta sprites + 12,x
        lda column
        sta sprites + 3,x
        sta sprites + 11,x
        adc #8
        sta sprites + 7,x
        sta sprites + 15,x
        txa
        clc
        adc #16
        sta spriteAt
        rts

; Lamps, moths and sparks of the three places, and where the targets are.
show_places:
        jsr begin_sprites
        ldx #TARGETS - 1
@spark: lda sparkTimer,x        ; sparks in front of everything
        beq @no_spark
        dec sparkTimer,x
        lsr a
        lsr a
        and #%00000100          ; two shapes
        clc
        adc #TILE_SPARK
        pha
        lda sparkX,x
        sta column
        lda sparkY,x
        sta row
        stx index
        pla
        ldy #3
        jsr put_sprite
        ldx index
@no_spark:
        dex
        bpl @spark
        ldx #TARGETS - 1
@place: stx index
        lda placeState,x
        cmp #PLACE_COMING
        beq @moth
        cmp #PLACE_CIRCLING
        bne @lamp
@moth:  lda mothX,x
        sta column
        lda mothY,x
        sta row
        lda clockTick
        and #%00000100          ; wings up, wings down
        clc
        adc #TILE_MOTH
        ldy #2
        jsr put_sprite
        ldx index
@lamp:  lda lampX,x
        sta column
        lda lampY,x
        sta row
        lda placeState,x
        beq @unlit
        cmp #PLACE_SMOKING
        beq @smoke
        cmp #PLACE_CIRCLING
        bne @burns
        lda placeTimer,x        ; about to go out
        cmp #ALMOST_OUT
        bcs @burns
        lda clockTick
        and #%00000100
        beq @smoke
@burns: lda clockTick           ; the flame flickers a little
        lsr a
        eor index
        and #%00000100
        clc
        adc #TILE_LIT
        ldy #1
        bne @put
@smoke: lda #TILE_LAMP
        ldy #0
        beq @put
@unlit: lda #TILE_LAMP
        ldy #0
@put:   jsr put_sprite
        ldx index
        dex
        bpl @place
        jmp end_sprites

; A spark where target X was hit. Keeps X.
start_spark:
        lda targetX,x
        sta sparkX,x
        lda targetY,x
        sta sparkY,x
        lda #24
        sta sparkTimer,x
        rts
