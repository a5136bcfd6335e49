; The game: one street after the other, until the oil runs out.

OIL_FULL    = 64
OIL_MISS    = 3                 ; what a spark that goes astray costs
OIL_STREET  = 14                ; what a street that burns gives back
SAFE_FRAMES = 40                ; so long must all lamps burn in peace when the last moth has gone
FIRST_MOTHS = 2                 ; moths of the first street; each street has one more
MOST_MOTHS  = 9
STREETS     = 6                 ; pictures of streets; then they come again

first_street:
        ldx #DIGITS - 1
        lda #0
        sta street
@score: sta score,x
        dex
        bpl @score
        lda #OIL_FULL
        sta oil + 1
next_street:
        jsr blank_picture
        jsr load_colours
        jsr set_street
        lda street
        and #1
        jsr draw_dusk
        jsr draw_posts
        ldx #<status_texts
        ldy #>status_texts
        jsr draw_texts
        jsr clear_places
        jsr forget_places
        jsr street_step
        jsr show_picture
street_frame:
        jsr wait_frame
        jsr read_pad
        lda pressed
        cmp #BUTTON_START
        beq @pause
        jsr is_pulled
        bcc @world
        jsr shoot
        jsr after_shot
@world: jsr street_step
        jsr show_status
        lda oil + 1
        beq game_over
        lda safeTimer
        cmp #SAFE_FRAMES
        bcc street_frame
        inc street
        lda #5                  ; 500 for the street
        ldx #2
        jsr add_score
        lda oil + 1
        clc
        adc #OIL_STREET
        cmp #OIL_FULL
        bcc @oil
        lda #OIL_FULL
@oil:   sta oil + 1
        jmp next_street
@pause: jsr pause
        jmp street_frame

; Nothing moves until Start is pressed again.
pause:  ldx #0
        jsr queue_message
@still: jsr wait_frame
        jsr read_pad
        jsr remember_places     ; the pictures go on, with the targets where they are
        jsr is_pulled           ; a pull does nothing, but it is not kept for later
        lda pressed
        cmp #BUTTON_START
        bne @still
        ldx #MESSAGE_LENGTH

; Eight characters of `messages` from X on, beside the oil.
MESSAGE_LENGTH = 8
queue_message:
        stx index
        lda #MESSAGE_LENGTH
        ldx #>(NAMES + 28 * 32 + 16)
        ldy #<(NAMES + 28 * 32 + 16)
        jsr queue_run
        ldx index
        ldy #MESSAGE_LENGTH
        sty count
@next:  lda messages,x
        sec
        sbc #' '
        jsr queue_byte
        inx
        dec count
        bne @next
        jmp queue_end

game_over:
        jsr keep_best
        jsr blank_picture
        jsr clear_picture
        ldx #<over_texts
        ldy #>over_texts
        jsr draw_texts
        lda #>(NAMES + 13 * 32 + 17)
        ldx #<(NAMES + 13 * 32 + 17)
        jsr set_address
        ldx #DIGITS - 1
@digit: lda score,x
        clc
        adc #TILE_DIGITS
        sta PPUDATA
        dex
        bpl @digit
        lda #>(NAMES + 15 * 32 + 17)
        ldx #<(NAMES + 15 * 32 + 17)
        jsr set_address
        ldx #DIGITS - 1
@best:  lda bestScore,x
        clc
        adc #TILE_DIGITS
        sta PPUDATA
        dex
        bpl @best
        jsr forget_places
        jsr begin_sprites
        jsr over_moth
        jsr show_picture
        lda second              ; whoever still shoots at moths does not skip this
        sta shotWait
@frame: jsr wait_frame
        inc clockTick
        jsr begin_sprites
        jsr over_moth
        jsr read_pad
        jsr is_pulled
        bcs @title
        lda pressed
        cmp #BUTTON_START
        bne @frame
@title: jmp title

; One moth is left where the lamp was.
over_moth:
        lda #120
        sta column
        lda #64
        sta row
        lda clockTick
        lsr a
        and #%00000100
        clc
        adc #TILE_MOTH
        ldy #2
        jsr put_sprite
        jmp end_sprites

; Is this the best score?
keep_best:
        ldx #DIGITS - 1
@digit: lda score,x
        cmp bestScore,x
        bcc @no
        bne @yes
        dex
        bpl @digit
@no:    rts
@yes:   ldx #DIGITS - 1
@copy:  lda score,x
        sta bestScore,x
        dex
        bpl @copy
        rts

; What a spark did. A = verdict.
after_shot:
        tax
        beq @miss
        dex
        lda targetLive,x        ; what stood there may be gone
        beq @done
        jsr start_spark
        lda placeState,x
        cmp #PLACE_UNLIT
        beq @lamp
        lda #1                  ; 100 for a moth
        ldy #2
        bne @score
@lamp:  lda #5                  ; 50 for a lamp
        ldy #1
@score: pha
        lda #PLACE_CALM
        sta placeState,x
        stx index
        sty temp2
        jsr next_random
        and #15
        clc
        adc mothDelay
        ldx index
        sta placeTimer,x
        ldx temp2
        pla
        jmp add_score
@miss:  lda oil + 1
        sec
        sbc #OIL_MISS
        bcs @left
        lda #0
@left:  sta oil + 1
@done:  rts

; Add A to digit X of the score.
add_score:
        clc
        adc score,x
@digit: cmp #10
        bcc @done
        sbc #10
        sta score,x
        inx
        cpx #DIGITS
        bcs @over
        lda score,x
        adc #1                  ; carry is clear
        bne @digit              ; always
@done:  sta score,x
@over:  rts

; One frame of the street.
street_step:
        jsr move_places
        sec                     ; the oil burns
        lda oil
        sbc oilDrain
        sta oil
        lda oil + 1
        sbc #0
        bcs @oil
        lda #0
@oil:   sta oil + 1
        ldx #TARGETS - 1
@calm:  lda placeState,x
        cmp #PLACE_CALM
        bne @restless
        dex
        bpl @calm
        lda mothsToCome
        bne @restless
        inc safeTimer
        bne @show
@restless:
        lda #0
        sta safeTimer
@show:  jsr show_places
        jmp remember_places

; Lamps and difficulty of `street`.
set_street:
        lda #0
        sta safeTimer
        lda street
@again: cmp #STREETS
        bcc @one
        sbc #STREETS
        bcs @again
@one:   sta temp
        asl a
        adc temp                ; three lamps a street
        tay
        ldx #0
@lamp:  lda street_x,y
        sta lampX,x
        lda street_y,y
        sta lampY,x
        iny
        inx
        cpx #TARGETS
        bne @lamp
        lda street
        clc
        adc #FIRST_MOTHS
        cmp #MOST_MOTHS
        bcc @moths
        lda #MOST_MOTHS
@moths: sta mothsToCome
        ldx street              ; the last row is for all streets that follow
        cpx #LEVELS
        bcc @level
        ldx #LEVELS - 1
@level: lda level_drain,x
        ldy timing              ; at 50 Hz a frame is longer: a fifth more
        beq @drain
        sta temp
        lsr a
        lsr a
        adc temp
@drain: sta oilDrain
        lda level_speed,x
        sta mothSpeed
        lda level_delay,x
        sta mothDelay
        lda level_patience,x
        sta mothPatience
        rts

; Score, oil, street and moths in turn, one of them a frame.
show_status:
        lda clockTick
        and #3
        beq @score
        cmp #2
        beq @street
        bcs @moths
        jmp @oil
@score: lda #DIGITS
        ldx #>(NAMES + 26 * 32 + 8)
        ldy #<(NAMES + 26 * 32 + 8)
        jsr queue_run
        ldx #DIGITS - 1
@digit: lda score,x
        clc
        adc #TILE_DIGITS
        jsr queue_byte
        dex
        bpl @digit
        jmp queue_end
@street:
        lda #2
        ldx #>(NAMES + 26 * 32 + 23)
        ldy #<(NAMES + 26 * 32 + 23)
        jsr queue_run
        ldx street
        inx
        txa
        ldx #TILE_DIGITS
@tens:  cmp #10
        bcc @units
        sbc #10
        inx
        bne @tens
@units: pha
        txa
        jsr queue_byte
        pla
        clc
        adc #TILE_DIGITS
        jsr queue_byte
        jmp queue_end
@moths: lda #MESSAGE_LENGTH
        ldx #>(NAMES + 28 * 32 + 16)
        ldy #<(NAMES + 28 * 32 + 16)
        jsr queue_run
        ldx #2 * MESSAGE_LENGTH
@letter:
        lda messages,x
        sec
        sbc #' '
        jsr queue_byte
        inx
        cpx #3 * MESSAGE_LENGTH - 1
        bne @letter
        ldx #TARGETS - 1        ; those that are here count as well
        lda mothsToCome
@here:  ldy placeState,x
        cpy #PLACE_COMING
        beq @one
        cpy #PLACE_CIRCLING
        bne @next
@one:   clc
        adc #1
@next:  dex
        bpl @here
        cmp #10
        bcc @few
        lda #9
@few:   clc
        adc #TILE_DIGITS
        jsr queue_byte
        jmp queue_end
@oil:   lda #8
        ldx #>(NAMES + 28 * 32 + 6)
        ldy #<(NAMES + 28 * 32 + 6)
        jsr queue_run
        lda #8
        sta count
        lda oil + 1
        sta temp
@tile:  lda temp
        sec
        sbc #8
        bcs @full
        lda temp                ; the tile in which the oil ends
        ldx #0
        stx temp
        beq @bar
@full:  sta temp
        lda #8
@bar:   clc
        adc #TILE_BAR
        jsr queue_byte
        dec count
        bne @tile
        jmp queue_end
