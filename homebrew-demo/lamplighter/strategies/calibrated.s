; Calibrated: two white pulses measure how late the screen is; a shot shows each box for some pictures and takes the one
; whose light comes when it was expected. How it works, what it costs and where it fails: calibrated.md
;
; Times are 24 bits in sixteenths of a poll slot since an NMI dot. `sum`, `term` and `best` are scratch.

BOX_FRAMES   = 2                ; H: pictures that a box stays; 1 shortens the shot and asks more of screen and sensor
FIRST_PULSE  = 3                ; W: white pictures of the first pulse
SECOND_PULSE = 4                ; of the second
LEAST_BLACK  = 2
MOST_BLACK   = 6                ; room in the script: MOST_BLACK + 4 x BOX_FRAMES <= SCRIPT_LENGTH
MARK_LINE    = 120              ; scanline of the mark that the calibration aims at
GAP_TIME     = LONGEST_GAP * 16 / SLOT  ; g
LATEST_PULSE = 4                ; a pulse must begin so many frames before the next one
SECOND_LOOK  = 90               ; frames after which no light is expected any more
FARTHEST     = RING_LENGTH - 1  ; pictures that the ring can go back

; `calibration`: none, under way, good; bit 7: refused, with the number of the reason.
CALIBRATION_NONE    = 0
CALIBRATION_RUNS    = 1
CALIBRATION_GOOD    = 2
REFUSED_OTHER_LIGHT = $81       ; other light than the screen
REFUSED_LENGTH      = $82       ; pulse of wrong length
REFUSED_NOT_STEADY  = $83       ; delay not constant
REFUSED_NOT_SCREEN  = $84       ; light that is not the screen's
REFUSED_TOO_LATE    = $85       ; delay too long for the ring
REFUSED_NO_LIGHT    = $86       ; no light at all

        .segment "BSS"
blackFrames:    .res 1                  ; B
delayTime:      .res 3                  ; D, sixteenths of a slot
firstOn:        .res 3                  ; of the first pulse, since the NMI dot before the white picture
firstLength:    .res 3
secondOn:       .res 3
secondLength:   .res 3
smear:          .res 3                  ; s
gapBridge:      .res 2                  ; `bridge` as calibrated
expectedLow:    .res TARGETS            ; when a box's light is expected, sixteenths of a slot since the first NMI dot
expectedMiddle: .res TARGETS
expectedHigh:   .res TARGETS
darkBy:         .res 3                  ; it must have been dark before this
pictureTop3:    .res 3                  ; pictureTop with 24 bits
millisecond3:   .res 3                  ; millisecond with 24 bits
gapTime:        .res 3                  ; g
onTime:         .res 3
pulseOn:        .res 3
pulseLength:    .res 3
        .segment "ZEROPAGE"
decidesAtOnce:  .res 1          ; $FF in a shot: the first light in the window decides
        .segment "CODE"

        .include "edges.s"

; While undecided: 6 + 3 + 2 + 3 + 3 + 2 + 2 + 6 = 27 cycles with the call, X and Y are kept.
; Carry set: decided, the verdict in A. Carry clear: undecided.
decide: lda leave
        bne decided
        lda pulses
        and decidesAtOnce
        bne decided
        clc
        rts
decided:
        lda #0
        sta watching
        lda decidesAtOnce
        beq @over               ; a calibration decides elsewhere
        jsr judge
        pha
        jsr clear_raw
        pla
@over:  sec
        rts

; ------------------------------------------------------------------------------------------------------------ the shot

; Script, boxes, window, and when the light of each box is expected.
plan:   lda #SHOW_SCENE
        jsr fill_script
        ldx #TARGETS - 1
@place: stx index
        jsr shown_place
        ldx index
        dex
        bpl @place
        ldx blackFrames
@black: lda #SHOW_BLACK
        sta script - 1,x
        dex
        bne @black
        ldx blackFrames
        jsr add_boxes
        .repeat BOX_FRAMES
        lda #SHOW_BLACK         ; the black slot: light in it means none
        sta script,x
        inx
        .endrepeat
        stx count               ; pictures of the script
        ldx #TARGETS - 1
@expect:
        stx index
        jsr expect_light
        ldx index
        dex
        bpl @expect
        ; the darkness must begin before the black pictures are over on the glass
        lda blackFrames
        jsr times_frames
        add3 sum, pictureTop3
        add3 sum, delayTime
        copy3 sum, darkBy
        ; the window opens half a slot earlier: H / 2 = 1 frame (H = 1: half a frame)
        .if BOX_FRAMES = 1
        jsr half_frame
        .else
        widen framePeriod, term
        .endif
        subtract3 sum, term
        jsr frame_and_slot
        sty openFrame
        lda sum
        sta openSlot
        lda sum + 1
        sta openSlot + 1
        ; ... and closes half a slot after the black one: as many frames later as boxes and black slot take, and a slot
        lda count
        sec
        sbc blackFrames
        clc
        adc #BOX_FRAMES
        adc openFrame
        adc #1
        sta lastFrame
        lda gapBridge
        sta bridge
        lda gapBridge + 1
        sta bridge + 1
        lda #$FF
        sta decidesAtOnce
        rts

; Place the box of target `index` where the glass showed the target when the trigger was pulled: n pictures back,
; n = (D + way down the picture + top of the picture) / frame + 1/2, rounded up. The way down is that of the place there.
shown_place:
        ldx index
        lda targetY,x
        jsr pictures_back
        ldx index
        pha
        jsr ring_place
        pla
        tax
        lda ringY,y
        beq @place              ; it was not there
        jsr pictures_back
        tax
@place: txa
        ldx index
        jmp place_box

; A = n for a target whose top edge is in scanline A.
pictures_back:
        clc
        adc #TARGET_SIZE / 2
        jsr times_lines
        add3 sum, delayTime
        add3 sum, pictureTop3
        jsr half_frame
        add3 sum, term
        widen framePeriod, term
        jsr how_often
        cmp #FARTHEST
        bcc @fits
        lda #FARTHEST
@fits:  rts

; term = half a frame.
half_frame:
        lda framePeriod + 1
        lsr a
        sta term + 1
        lda framePeriod
        ror a
        sta term
        lda #0
        sta term + 2
        rts

; When the light of box `index` is expected: D + wire + (B + kH) T, from the NMI dot before the first black picture.
expect_light:
        lda index
        clc
        adc #SHOW_BOX
        ldx #0
@find:  cmp script,x            ; the first picture of the box
        beq @found
        inx
        cpx #SCRIPT_LENGTH
        bne @find
        rts                     ; no box
@found: txa
        jsr times_frames
        copy3 sum, best
        ldx index
        lda boxY,x
        clc
        adc #TARGET_SIZE / 2 + MARGIN
        jsr times_lines
        add3 sum, best
        add3 sum, pictureTop3
        add3 sum, delayTime
        ldx index
        lda sum
        sta expectedLow,x
        lda sum + 1
        sta expectedMiddle,x
        lda sum + 2
        sta expectedHigh,x
        rts

; Y = whole frames in sum, sum = slots beyond them.
frame_and_slot:
        widen framePeriod, term
        ldy #0
@take:  compare3 sum, term
        bcc @rest
        subtract3 sum, term
        iny
        bne @take
@rest:  ldx #4
@shift: lsr sum + 2
        ror sum + 1
        ror sum
        dex
        bne @shift
        rts

; The verdict in A: which box's light was expected nearest to the light that came?
judge:  lda pulses
        bne @came
        rts                     ; no light in the window
@came:
        widen onSlot, term
        lda onFrame
        jsr time_of_slot
        copy3 sum, onTime
        jsr was_dark
        bcc @none
        .if BOX_FRAMES = 1
        jsr half_frame          ; accepted: within H T / 2 - g
        .else
        widen framePeriod, term
        .endif
        subtract3 term, gapTime
        copy3 term, best
        lda #0
        sta count               ; none yet
        ldx #TARGETS - 1
@try:   lda boxY,x
        cmp #HIDDEN + 1
        beq @next
        sec
        lda onTime
        sbc expectedLow,x
        sta sum
        lda onTime + 1
        sbc expectedMiddle,x
        sta sum + 1
        lda onTime + 2
        sbc expectedHigh,x
        sta sum + 2
        bpl @late
        jsr negate
@late:  compare3 sum, best
        bcs @next
        copy3 sum, best
        stx count
        inc count
@next:  dex
        bpl @try
        lda count
        rts
@none:  lda #0
        rts

; sum = -sum. Keeps X.
negate: sec
        lda #0
        sbc sum
        sta sum
        lda #0
        sbc sum + 1
        sta sum + 1
        lda #0
        sbc sum + 2
        sta sum + 2
        rts

; The dark test. Carry set: some read was dark, for longer than a gap, while the last black picture was on the glass.
was_dark:
        copy3 onTime, sum       ; dark since: on - onDark + bridge
        sec
        lda onDark              ; how long it was known to be dark
        sbc bridge
        sta term
        lda onDark + 1
        sbc bridge + 1
        sta term + 1
        lda #0
        sta term + 2
        ldx #4
@shift: asl term
        rol term + 1
        rol term + 2
        dex
        bne @shift
        subtract3 sum, term
        bcc @dark               ; since before the script
        compare3 sum, darkBy
        bcs @lit
@dark:  sec
        rts
@lit:   clc
        rts

; ----------------------------------------------------------------------------------------------------- the calibration

clear_calibration:
        lda #CALIBRATION_NONE
        sta calibration
        lda #LEAST_BLACK
        sta blackFrames
        lda #LIGHT
        sta lightMask
        lda #<GAP_TIME
        sta gapTime
        lda #>GAP_TIME
        sta gapTime + 1
        widen pictureTop, pictureTop3
        widen millisecond, millisecond3
        rts

; Measure the screen. In the frame whose NMI saw the trigger; leaves `calibration`, and for a refusal the two values.
calibrate:
        lda #CALIBRATION_RUNS
        sta calibration
        ldx #5
        lda #0
@value: sta refusalValue,x
        dex
        bpl @value
        sta openFrame
        sta openSlot
        sta openSlot + 1
        sta decidesAtOnce
        jsr dark_wait
        bcs @dark
        lda #REFUSED_OTHER_LIGHT
        bne @done
@dark:  lda #FIRST_PULSE
        jsr flash_white
        jsr first_pulse
        bcs @done
        lda #SECOND_PULSE
        jsr flash_white
        jsr second_pulse
        bcs @done
        jsr find_delay
@done:  sta calibration
        jsr end_script
        jmp clear_raw

; Stamps and counters are cleared when they have done their duty.
clear_raw:
        ldx #isLit - stamp
        lda #0
@clear: sta stamp,x
        dex
        bpl @clear
        rts

; Black until two whole frames were dark. Carry clear: they were not within 1.2 s.
dark_wait:
        lda #SHOW_BLACK
        jsr fill_script
        jsr start_script
        lda #$FF
        sta lastFrame
        lda #0
        sta count               ; dark frames so far
@first: lda newFrame
        beq @first
@frame: lda #0
        sta newFrame
        inc count
; exactly SLOT cycles from here
@look:  lda GUN
        and #LIGHT
        beq @light
        lda newFrame
        beq @look
; to here
        bne @ended
@light: lda #0
        sta count
        lda newFrame
        beq @look_on
@ended: lda count
        cmp #2
        bcs @dark
        lda frame
        cmp darkFrames
        bcc @frame
        clc
        rts
@look_on:
        jmp @look
@dark:  rts

; White for A pictures, then black; the first begins with the next NMI. `watch` may look until the next pulse would begin.
flash_white:
        sta count
        lda #SHOW_BLACK
        jsr fill_script
        ldx count
        lda #SHOW_WHITE
@white: sta script - 1,x
        dex
        bne @white
        jsr start_script
        ldx repeatFrames
        dex
        stx lastFrame
        rts

; The first pulse. Carry set: refused, reason in A.
first_pulse:
        lda frameSlots + 1      ; gaps of up to 9/8 frame are gaps of a pulse: a tube has one a picture
        sta term + 1
        lda frameSlots
        ldx #3
@eighth:
        lsr term + 1
        ror a
        dex
        bne @eighth
        clc
        adc frameSlots
        sta bridge
        lda term + 1
        adc frameSlots + 1
        sta bridge + 1
        jsr watch
        lda pulses
        bne @seen
        jmp @later
@seen:  lda repeatFrames
        sec
        sbc #LATEST_PULSE
        cmp onFrame
        bcs @in_time
        jmp @late
@in_time:
        jsr measure_pulse
        copy3 pulseOn, firstOn
        copy3 pulseLength, firstLength
        copy3 pulseLength, refusalValue
        bit isLit
        bpl @over
        lda #FIRST_PULSE        ; not over yet: has it begun late, or does it never end?
        jsr longest_pulse
        compare3 sum, pulseLength
        bcc @length
        jmp @late
@over:  lda #FIRST_PULSE
        jsr is_length_right
        bcc @length
        ; bridge = 1.2 x the longest gap: 1 + 1/8 + 1/16 + 1/64
        lda longestGap
        sta gapBridge
        sta term
        lda longestGap + 1
        sta gapBridge + 1
        sta term + 1
        ldx #3
        jsr add_part
        ldx #1
        jsr add_part
        ldx #2
        jsr add_part
        lda gapBridge
        sta bridge
        lda gapBridge + 1
        sta bridge + 1
        clc
        rts
@length:
        lda #REFUSED_LENGTH
        sec
        rts
; Nothing yet: does the light come after all?
@later: lda #SECOND_LOOK
        sta lastFrame
        lda #0
        sta leave
        jsr watch_on
        lda pulses
        bne @late
        lda #REFUSED_NO_LIGHT
        sec
        rts
@late:  widen onSlot, term
        lda onFrame
        jsr time_of_slot
        copy3 sum, refusalValue
        lda #REFUSED_TOO_LATE
        sec
        rts

; gapBridge = gapBridge + term, after term was halved X times.
add_part:
        lsr term + 1
        ror term
        dex
        bne add_part
        clc
        lda gapBridge
        adc term
        sta gapBridge
        lda gapBridge + 1
        adc term + 1
        sta gapBridge + 1
        rts

; pulseOn = first light of the pulse, pulseLength = from there to the last.
measure_pulse:
        widen onSlot, term
        lda onFrame
        jsr time_of_slot
        copy3 sum, pulseOn
        bit isLit
        bmi @lit
        widen lastLit, term
        lda offFrame
        jmp @off
@lit:   lda #0                  ; still lit: up to now
        sta term
        sta term + 1
        sta term + 2
        lda frame
@off:   jsr time_of_slot
        subtract3 sum, pulseOn
        copy3 sum, pulseLength
        rts

; Carry set: there was exactly one pulse, for A white pictures: (A - 1) T - 1 ms <= length <= A T + 35 ms.
is_length_right:
        sta count
        lda pulses
        cmp #1
        bne @wrong
        bit isLit
        bmi @wrong
        lda count
        jsr longest_pulse
        compare3 sum, pulseLength
        bcc @wrong
        ldx count
        dex
        txa
        jsr times_frames
        subtract3 sum, millisecond3
        compare3 pulseLength, sum
        rts
@wrong: clc
        rts

; sum = the longest that the light of A white pictures may last.
longest_pulse:
        jsr times_frames
        add3 sum, longestSmear
        rts

; The second pulse must be one picture longer, +- 3 ms, and begin as late, +- 2 ms. Carry set: refused, reason in A.
second_pulse:
        lda lastFrame           ; nothing follows it: it may end later
        clc
        adc #LATEST_PULSE
        sta lastFrame
        jsr watch
        lda pulses
        bne @seen
        lda #0
        sta pulseLength
        sta pulseLength + 1
        sta pulseLength + 2
        beq @compare
@seen:  jsr measure_pulse
@compare:
        copy3 pulseOn, secondOn
        copy3 pulseLength, secondLength
        copy3 firstLength, refusalValue
        copy3 secondLength, refusalValue + 3
        lda #SECOND_PULSE
        jsr is_length_right
        bcs @right
        jmp @strange
@right: copy3 secondLength, sum
        subtract3 sum, firstLength
        widen framePeriod, term
        subtract3 sum, term
        lda #3
        jsr is_within
        bcc @strange
        copy3 firstOn, refusalValue
        copy3 secondOn, refusalValue + 3
        copy3 secondOn, sum
        subtract3 sum, firstOn
        lda #2
        jsr is_within
        bcc @unsteady
        clc
        rts
@strange:
        lda #REFUSED_NOT_SCREEN
        sec
        rts
@unsteady:
        lda #REFUSED_NOT_STEADY
        sec
        rts

; Carry set: sum lies within +- A ms.
is_within:
        sta count
        lda sum + 2
        bpl @positive
        jsr negate
@positive:
        copy3 sum, best
        lda millisecond
        sta factor
        lda millisecond + 1
        sta factor + 1
        lda count
        jsr multiply
        compare3 sum, best
        rts

; Everything agrees: D, s, B. A = the new `calibration`.
find_delay:
        ; D = on - wire of the mark's scanline, not less than 0
        lda #MARK_LINE
        jsr times_lines
        add3 sum, pictureTop3
        copy3 sum, term
        copy3 firstOn, sum
        subtract3 sum, term
        bcs @not_negative
        lda #0
        sta sum
        sta sum + 1
        sta sum + 2
@not_negative:
        jsr round_delay
        ; would the ring reach back from the bottom of the picture?
        lda #240 - TARGET_SIZE
        jsr pictures_back
        cmp #FARTHEST
        bcc @reaches
        jmp @too_late
@reaches:
        ; s = length - W T of the second pulse; s + g in `smear`, not less than 0
        lda #SECOND_PULSE
        jsr times_frames
        copy3 sum, term
        copy3 secondLength, sum
        subtract3 sum, term
        copy3 sum, smear
        bcs @smears
        lda #0                  ; max(s, 0)
        sta sum
        sta sum + 1
        sta sum + 2
@smears:
        widen gapBridge, term
        ldx #4
@shift: asl term
        rol term + 1
        rol term + 2
        dex
        bne @shift
        add3 sum, term
        add3 sum, gapTime
        widen framePeriod, term
        jsr how_often           ; ceil((max(s, 0) + bridge + g) / T) = 1 + ceil((... - T) / T)
        jsr at_least
        copy3 smear, sum
        add3 sum, gapTime
        widen framePeriod, term
        jsr how_often
        clc
        adc #1                  ; 1 + ceil((s + g) / T)
        jsr at_least_more
        lda #CALIBRATION_GOOD
        rts
@too_late:
        copy3 firstOn, refusalValue
        lda #REFUSED_TOO_LATE
        rts

; blackFrames = A, at least LEAST_BLACK, at most MOST_BLACK.
at_least:
        ldx #LEAST_BLACK
        stx blackFrames
at_least_more:
        cmp #MOST_BLACK
        bcc @fits
        lda #MOST_BLACK
@fits:  cmp blackFrames
        bcc @enough
        sta blackFrames
@enough:
        rts

; delayUnits = sum to the nearest 8 scanlines, delayTime = that many times 8 scanlines. One unit after the other: that takes
; up to three frames, and nothing waits for it.
round_delay:
        lda #0
        sta delayUnits
        sta delayUnits + 1
        sta delayTime
        sta delayTime + 1
        sta delayTime + 2
        sta temp2               ; fraction of delayTime
        lda unitTime + 1        ; half a unit
        sta term
        lda unitTime + 2
        lsr a
        sta term + 1
        ror term
        lda #0
        sta term + 2
@unit:  subtract3 sum, term
        bcc @done
        clc
        lda temp2
        adc unitTime
        sta temp2
        lda delayTime
        adc unitTime + 1
        sta delayTime
        lda delayTime + 1
        adc unitTime + 2
        sta delayTime + 1
        bcc @high
        inc delayTime + 2
@high:  inc delayUnits
        bne @low
        inc delayUnits + 1
@low:   lda unitTime + 1        ; from the second on: a whole unit
        sta term
        lda unitTime + 2
        sta term + 1
        jmp @unit
@done:  rts
