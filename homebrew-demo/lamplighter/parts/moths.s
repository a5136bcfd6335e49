; The three places of a street: a lamp each, and the moth that comes to it. A place has at most one target: the lamp while
; it does not burn, or the moth.
;
;   unlit --spark--> calm --time--> a moth comes --arrives--> it circles --time--> the lamp smokes --time--> unlit
;                     ^--------------- spark -----+--------------+
;
; Between two targets of a place lie at least LEAST_CALM pairs of frames, more than the ring goes back: a box at the place
; of an earlier target can only be hit while there is none.

PLACE_UNLIT    = 0
PLACE_CALM     = 1
PLACE_COMING   = 2
PLACE_CIRCLING = 3
PLACE_SMOKING  = 4

LEAST_CALM  = 23
ALMOST_OUT  = 28                ; pairs of frames before a lamp goes out in which its flame fails
ORBIT       = 20                ; dots from the lamp to a circling moth
MOTH_LEFT   = 8                 ; where moths come from
MOTH_RIGHT  = 232

; A new street: all lamps dark.
clear_places:
        ldx #TARGETS - 1
@place: lda #PLACE_UNLIT
        sta placeState,x
        sta sparkTimer,x
        sta placeTimer,x
        dex
        bpl @place
        rts

; One frame of all places, then their targets.
move_places:
        inc clockTick
        ldx #TARGETS - 1
@place: stx index
        ldy placeState,x
        lda place_low,y
        sta pointer
        lda place_high,y
        sta pointer + 1
        jsr move_place
        ldx index
        jsr find_target
        dex
        bpl @place
        rts

move_place:
        jmp (pointer)

        .segment "RODATA"
place_low:      .byte <stays, <is_calm, <comes, <circles, <smokes
place_high:     .byte >stays, >is_calm, >comes, >circles, >smokes
        .segment "CODE"

stays:  rts

is_calm:
        jsr time_is_up
        bne stays
        lda mothsToCome
        bne @comes
        inc placeTimer,x        ; nobody comes any more
        rts
@comes: dec mothsToCome
        lda #PLACE_COMING
        sta placeState,x
        jsr next_random
        and #1
        sta mothSide,x
        tay
        lda moth_start,y
        sta mothX,x
        lda lampY,x
        sta mothY,x
        lda #0
        sta mothPart,x
        rts

; It flies along the lamp's height up to its circle.
comes:  lda mothPart,x
        clc
        adc mothSpeed
        sta mothPart,x
        lda #0
        adc #1                  ; one or two dots a frame
        ldy mothSide,x
        bne @left
        clc
        adc mothX,x
        sta mothX,x
        clc
        adc #ORBIT
        cmp lampX,x
        bcs arrives
        rts
@left:  sta temp
        lda mothX,x
        sec
        sbc temp
        sta mothX,x
        sbc #ORBIT - 1
        cmp lampX,x
        bcc arrives
        rts
arrives:
        lda moth_angle,y
        sta mothAngle,x
        lda #PLACE_CIRCLING
        sta placeState,x
        lda mothPatience
        sta placeTimer,x
        jmp orbit_place

circles:
        jsr time_is_up
        bne @fly
        inc mothsToCome         ; it will be back
        lda #PLACE_SMOKING
        sta placeState,x
        lda #2 * LEAST_CALM
        sta placeTimer,x
        rts
@fly:   lda mothPart,x
        clc
        adc mothSpeed
        sta mothPart,x
        bcc orbit_place         ; not yet a whole step
        lda #1
        ldy mothSide,x
        beq @turn
        lda #63                 ; one step back
@turn:  clc
        adc mothAngle,x
        and #63
        sta mothAngle,x

; The moth of place X on its circle.
orbit_place:
        ldy mothAngle,x
        lda lampX,x
        clc
        adc orbit_cosine,y
        sta mothX,x
        lda lampY,x
        clc
        adc orbit_sine,y
        sta mothY,x
        rts

smokes: jsr time_is_up
        bne @still
        lda #PLACE_UNLIT
        sta placeState,x
@still: rts

; Count the timer of place X down, once in two frames. Zero flag: it has run out.
time_is_up:
        lda clockTick
        and #1
        bne @not_yet
        dec placeTimer,x
        rts
@not_yet:
        lda #1
        rts

; The target of place X. Keeps X.
find_target:
        lda placeState,x
        beq @lamp
        cmp #PLACE_COMING
        beq @moth
        cmp #PLACE_CIRCLING
        beq @moth
        lda #0
        sta targetLive,x
        rts
@lamp:  lda lampX,x
        sta targetX,x
        lda lampY,x
        sta targetY,x
        lda #1
        sta targetLive,x
        rts
@moth:  lda mothX,x
        sta targetX,x
        lda mothY,x
        sta targetY,x
        lda #1
        sta targetLive,x
        rts

        .segment "RODATA"
moth_start:     .byte MOTH_LEFT, MOTH_RIGHT
moth_angle:     .byte 32, 0     ; from the left it arrives left of the lamp
; A circle in 64 steps, 20 dots wide and 16 scanlines high from its centre: no step is longer than 2 dots.
orbit_cosine:   .byte <20, <20, <20, <19, <18, <18, <17, <15, <14, <13, <11, <9, <8, <6, <4, <2
                .byte <0, <-2, <-4, <-6, <-8, <-9, <-11, <-13, <-14, <-15, <-17, <-18, <-18, <-19, <-20, <-20
                .byte <-20, <-20, <-20, <-19, <-18, <-18, <-17, <-15, <-14, <-13, <-11, <-9, <-8, <-6, <-4, <-2
                .byte <0, <2, <4, <6, <8, <9, <11, <13, <14, <15, <17, <18, <18, <19, <20, <20
orbit_sine:     .byte <0, <2, <3, <5, <6, <8, <9, <10, <11, <12, <13, <14, <15, <15, <16, <16
                .byte <16, <16, <16, <15, <15, <14, <13, <12, <11, <10, <9, <8, <6, <5, <3, <2
                .byte <0, <-2, <-3, <-5, <-6, <-8, <-9, <-10, <-11, <-12, <-13, <-14, <-15, <-15, <-16, <-16
                .byte <-16, <-16, <-16, <-15, <-15, <-14, <-13, <-12, <-11, <-10, <-9, <-8, <-6, <-5, <-3, <-2
        .segment "CODE"
