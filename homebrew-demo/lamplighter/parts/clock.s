; The three timings. Times are poll slots of 14 processor cycles, or sixteenths of them, so that no division is needed
; while light is timed. The cycles come from the clock table of the console: 29780.5, 33247.5 and 35464 in a frame;
; 113 2/3, 106.5625 and 113 2/3 in a scanline.

SLOT = 14

        .macro clock_row tenthsPerFrame, linesPerFrame, cyclesPer100Lines, topCycles, cyclesPerMs, fps, pace, again
        .word (tenthsPerFrame * 16 + SLOT * 5) / (SLOT * 10)    ; framePeriod
        .word (topCycles * 16 + SLOT / 2) / SLOT                ; pictureTop
        .byte (cyclesPer100Lines * 16 + SLOT * 50) / (SLOT * 100)
        .byte <(cyclesPer100Lines * 128 / SLOT * 64 / 25)
        .byte >(cyclesPer100Lines * 128 / SLOT * 64 / 25)
        .byte ^(cyclesPer100Lines * 128 / SLOT * 64 / 25)
        .word (cyclesPerMs * 16 + SLOT / 2) / SLOT              ; millisecond
        .byte <(cyclesPerMs * 35 * 16 / SLOT), >(cyclesPerMs * 35 * 16 / SLOT), ^(cyclesPerMs * 35 * 16 / SLOT)
        .word (tenthsPerFrame + SLOT * 5) / (SLOT * 10)         ; frameSlots
        .word linesPerFrame
        .byte fps, pace, again, fps * 6 / 5
        .endmacro

CLOCK_ROW = clock_end - clock

        .segment "RODATA"
clocks: clock_row 297805, 262, 11367, 2387, 1790, 60, 30, 41
        clock_row 332475, 312, 10656, 7566, 1663, 50, 25, 34
        clock_row 354640, 312, 11367, 2387, 1773, 50, 25, 34
        .assert * - clocks = 3 * CLOCK_ROW, error, "a clock row does not fit its place in memory"
        .segment "CODE"

; Copy the clock row of `timing`, and make the table of whole frames in slots.
set_clock:
        lda #0
        ldx timing
        beq @found
@row:   clc
        adc #CLOCK_ROW
        dex
        bne @row
@found: tax
        ldy #0
@copy:  lda clocks,x
        sta clock,y
        inx
        iny
        cpy #CLOCK_ROW
        bne @copy
        ldx #0
        stx ageLow
        stx ageHigh
@age:   clc
        lda ageLow,x
        adc frameSlots
        sta ageLow + 1,x
        lda ageHigh,x
        adc frameSlots + 1
        sta ageHigh + 1,x
        inx
        cpx #SCRIPT_LENGTH - 1
        bne @age
        rts
