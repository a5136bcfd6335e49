; Whole pictures, drawn while the raster unit is switched off.

NAMES      = $2000              ; the only name table that is shown
ATTRIBUTES = $23C0

        .macro at_address row, column
        .byte >(NAMES + 32 * (row) + (column)), <(NAMES + 32 * (row) + (column))
        .endmacro

; Switch the picture off: from here on PPUDATA may be written at any time.
blank_picture:
        jsr wait_frame
        lda #MODE_QUIET
        sta mode
        lda #0
        sta PPUMASK
        bit PPUSTATUS           ; the next write to PPUADDR is a first one; a read later could swallow the NMI of its frame
        sta queueAt
        sta queue
        sta queueReady
        rts

; ... and on again: everything at once.
show_picture:
        lda #%00011110
        sta sceneMask
        jsr wait_frame
        lda #MODE_PLAY
        sta mode
        jmp wait_frame

; Address of the next PPUDATA: A = high, X = low byte.
set_address:
        sta PPUADDR
        stx PPUADDR
        rts

; All 32 colours.
load_colours:
        lda #$3F
        ldx #0
        jsr set_address
@next:  lda colours,x
        sta PPUDATA
        inx
        cpx #32
        bne @next
        rts

; Empty tiles everywhere, in the colours of text.
clear_picture:
        lda #>NAMES
        ldx #<NAMES
        jsr set_address
        txa                     ; X = 0: tile 0 is empty
        ldy #4
@name:  sta PPUDATA
        inx
        bne @name
        dey
        bne @name
        lda #>ATTRIBUTES
        ldx #<ATTRIBUTES
        jsr set_address
        lda #%11111111
        ldx #64
@attribute:
        sta PPUDATA
        dex
        bne @attribute
        rts

; Texts one after the other: address high, low, characters, 0; the list ends with another 0. X, Y = its address.
draw_texts:
        stx pointer
        sty pointer + 1
        ldy #0
@text:  lda (pointer),y
        beq @done
        iny
        pha
        lda (pointer),y
        iny
        tax
        pla
        jsr set_address
@next:  lda (pointer),y
        iny
        bne @same
        inc pointer + 1
@same:  sec
        sbc #' '                ; the tiles of the font begin with the space
        bcc @text
        sta PPUDATA
        bcs @next               ; always
@done:  rts

; The dusk: sky, houses (A: which row of them, negative: none), street. The bottom four rows stay empty for text.
draw_dusk:
        pha
        lda #>NAMES
        ldx #<NAMES
        jsr set_address
        ldy #0
@row:   lda sky_rows,y
        ldx #32
@tile:  sta PPUDATA
        dex
        bne @tile
        iny
        cpy #26
        bne @row
        lda #0
        ldx #4 * 32
@text:  sta PPUDATA
        dex
        bne @text
        ldy #0                  ; attributes: eight bytes a row
@colour:
        lda sky_attributes,y
        ldx #8
@eight: sta PPUDATA
        dex
        bne @eight
        iny
        cpy #8
        bne @colour
        jsr draw_stones
        jsr draw_stars
        pla
        bmi @done
        jmp draw_houses
@done:  rts

; Cobbles: the stones of a row stand between those of the row above.
draw_stones:
        lda #>(NAMES + 23 * 32)
        ldx #<(NAMES + 23 * 32)
        jsr set_address
        ldx #3 * 32
@stone: txa
        lsr a
        lsr a
        lsr a
        lsr a
        lsr a
        sta temp
        txa
        eor temp
        and #1
        clc
        adc #TILE_STONES
        sta PPUDATA
        dex
        bne @stone
        rts

; Houses column by column: a roof from the list, walls below it down to the pavement.
draw_houses:
        asl a
        asl a
        asl a
        asl a
        asl a
        sta index               ; 32 columns a list
        lda #%10000100          ; each byte goes one row down
        sta PPUCTRL
        lda #0
        sta column
@column:
        ldx index
        lda houses,x            ; bits 4..0 the row of the roof, bits 7..5 its shape
        pha
        and #$1F
        sta row
        jsr row_address
        pla
        lsr a
        lsr a
        lsr a
        lsr a
        lsr a
        clc
        adc #TILE_ROOFS
        sta PPUDATA
@wall:  inc row
        lda row
        cmp #22
        bcs @next
        jsr wall_tile
        sta PPUDATA
        jmp @wall
@next:  inc index
        inc column
        lda column
        cmp #32
        bne @column
        lda #%10000000
        sta PPUCTRL
        rts

; A wall, or one of its windows; some are lit.
wall_tile:
        lda column
        and #1
        beq @plain
        lda row
        and #1
        bne @plain
        lda column
        asl a
        adc column
        adc row
        eor index
        and #%00001110
        beq @lit
        lda #TILE_WINDOW
        rts
@lit:   lda #TILE_WINDOW + 1
        rts
@plain: lda #0
        rts

; Address of the tile in `column` of `row`.
row_address:
        lda row
        lsr a
        lsr a
        lsr a
        clc
        adc #>NAMES
        pha
        lda row
        asl a
        asl a
        asl a
        asl a
        asl a
        ora column
        tax
        pla
        jmp set_address

; The posts of the three lamps, from under the lamp to the pavement.
draw_posts:
        ldx #TARGETS - 1
@lamp:  stx index
        lda lampX,x
        clc
        adc #4
        lsr a
        lsr a
        lsr a
        sta column
        lda lampY,x
        lsr a
        lsr a
        lsr a
        clc
        adc #2
        sta row
@tile:  jsr put_post
        inc row
        lda row
        cmp #23
        bcc @tile
        ldx index
        dex
        bpl @lamp
        rts

; One tile of a post. Before the sky it is the sky's tile with a post; before a house nothing is to be seen of it.
put_post:
        jsr row_address
        lda row
        cmp #22
        beq @foot
        lda PPUDATA             ; the first read gives an older byte
        lda PPUDATA
        cmp #TILE_SKY
        bcc @hidden
        cmp #TILE_POST
        bcs @hidden
        adc #TILE_POST - TILE_SKY
        pha
        jsr row_address
        pla
        sta PPUDATA
@hidden:
        rts
@foot:  lda #TILE_POST_FOOT
        sta PPUDATA
        rts

; A few stars where it is darkest.
draw_stars:
        ldx #STARS - 1
@star:  stx index
        lda star_places,x
        tax
        lda #>NAMES
        jsr set_address
        lda #TILE_SKY
        sta PPUDATA
        ldx index
        dex
        bpl @star
        rts

; Score, street and oil: the texts of the bottom rows.
status_texts:
        at_address 26, 2
        .byte "SCORE", 0
        at_address 26, 16
        .byte "STREET", 0
        at_address 28, 2
        .byte "OIL", 0
        .byte 0
