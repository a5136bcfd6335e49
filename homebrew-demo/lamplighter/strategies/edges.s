; `watch` for strategies that ask when light came: it polls every 14 cycles, through all pictures of a script, and stamps
; the edges of the light bit in poll slots since the NMI dot.
;
; X (low) and Y (high) count the slots. The NMI handler knows how long it takes and comes back with X = slotBase, Y = 0. So
; a stamp is (frame, slot), and no error adds up from frame to frame. Whoever uses X, Y or several bytes of a stamp must
; expect the handler in between: `frame` tells, and then the work is done once more with the new count.
;
; In the last scanlines X is about 80, 70 or 230 (2127, 2375 or 2533 slots a frame): the NMI never meets X at its end, where
; Y is about to follow.

        .segment "ZEROPAGE"
lightMask:      .res 1      ; LIGHT
stamp:          .res 2      ; slot of the edge at hand
stampFrame:     .res 1      ; its frame
lastLit:        .res 2      ; slot of the latest read that saw light
dark:           .res 2      ; length of the darkness that the edge ends
bridge:         .res 2      ; darkness that is no longer than this counts as a gap in the light
longestGap:     .res 2      ; longest such gap
pulses:         .res 1      ; bridged pulses of light so far
onSlot:         .res 2      ; first lit read of the first pulse
onFrame:        .res 1
onDark:         .res 2      ; darkness before it
offFrame:       .res 1      ; frame of lastLit
openSlot:       .res 2      ; an edge before this does not count
openFrame:      .res 1
isLit:          .res 1      ; bit 7: the latest read saw light
        .segment "CODE"

; Add slots (a number or a place) to the count. A and the flags get lost.
        .macro add_slots number
        txa
        clc
        adc number
        tax
        bcc :+
        iny
:       lda stampFrame
        cmp frame
        beq :+
        ldx slotBase            ; the handler has set the count meanwhile, and it was spoilt
        ldy #0
:
        .endmacro

; Back to the poll loop `loop`. Light that flickers may never let X come to its end there: look for a new frame here, too.
        .macro go_on_with loop, once
        lda newFrame
        beq :+
        jmp once
:       jmp loop
        .endmacro

; A poll loop that ends with the branch `leaves` to `edge`. Every 256 slots it takes two slots for one read and sees
; whether a frame has begun; `once` is `decide`'s chance.
        .macro poll_loop look, leaves, edge, once
; exactly SLOT cycles from here
look:   lda GUN                 ; 4
        and lightMask           ; 3
        leaves edge             ; 2
        inx                     ; 2
        bne look                ; 3
; to here
        iny                     ; this round takes 28 cycles
        inx
        lda newFrame
        bne once
        bit newFrame
        jmp look
        .endmacro

; Watch the pictures of the script. Returns what `decide` says when it has decided.
watch:  lda #0
        sta pulses
        sta longestGap
        sta longestGap + 1
        sta lastLit
        sta lastLit + 1
; Go on watching, with what was found so far.
watch_on:
        lda newFrame            ; the next picture of the script begins
        beq watch_on
        ldx slotBase
        ldy #0
        lda #$80
        sta watching
        jmp look_dark

; From lit to dark.
spoilt_dark:
        ldx slotBase
        ldy #0
found_dark:
        lda frame
        sta stampFrame
        sta offFrame
        stx lastLit
        sty lastLit + 1
        lda #0
        sta litAge
        lda stampFrame
        cmp frame
        bne spoilt_dark
        add_slots #5
        go_on_with look_dark, once_dark

look_dark:
        poll_loop @dark, beq, found_light, once_dark
once_dark:
        lda #0                  ; 23 cycles of the round are gone
        sta isLit
        sta newFrame
        jsr decide              ; 27 cycles while undecided
after_decide_dark:
        bcs watched
        inx
        inx
        inx
        inx
        jmp look_dark           ; 23 + 8 + 27 + 2 + 8 + 3 = 71: five slots and a cycle

look_lit:
        poll_loop @lit, bne, found_dark, once_lit
once_lit:
        lda #0
        sta newFrame
        lda #$80
        sta isLit
        jsr decide
after_decide_lit:
        bcs watched
        inx
        inx
        inx
        inx
        jmp look_lit

watched:
        ldx #0
        stx watching
        rts

; From dark to lit: how long was it dark?
spoilt_light:
        ldx slotBase
        ldy #0
found_light:
        lda frame               ; the frame first: then a handler in between cannot go unseen
        sta stampFrame
        stx stamp
        sty stamp + 1
        ldy litAge
        lda ageLow,y
        clc
        adc stamp
        sta dark
        lda ageHigh,y
        adc stamp + 1
        sta dark + 1
        sec
        lda dark
        sbc lastLit
        sta dark
        lda dark + 1
        sbc lastLit + 1
        sta dark + 1
        ldy stamp + 1
        lda stampFrame
        cmp frame
        bne spoilt_light
        lda bridge
        cmp dark
        lda bridge + 1
        sbc dark + 1
        bcs @gap
        lda stamp               ; new light: does it count yet? X and Y may have been set by the handler by now
        cmp openSlot
        lda stamp + 1
        sbc openSlot + 1
        lda stampFrame
        sbc openFrame
        bcc @early
        lda pulses
        bne @more
        lda #1
        sta pulses
        lda stamp
        sta onSlot
        lda stamp + 1
        sta onSlot + 1
        lda stampFrame
        sta onFrame
        lda dark
        sta onDark
        lda dark + 1
        sta onDark + 1
        lda #14                 ; slots that all this has taken
        jmp back_to_lit
@more:  lda #2
        sta pulses
        lda #12
        jmp back_to_lit
@early: lda #11
        jmp back_to_lit
@gap:   lda longestGap          ; a gap in the light
        cmp dark
        lda longestGap + 1
        sbc dark + 1
        bcs @short
        lda dark
        sta longestGap
        lda dark + 1
        sta longestGap + 1
        lda #11
        jmp back_to_lit
@short: lda #10
back_to_lit:
        sta temp
        add_slots temp
        go_on_with look_lit, once_lit
