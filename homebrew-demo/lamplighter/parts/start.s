; Power-on, and which timing the console has.

reset:  sei
        cld
        ldx #$40
        stx APUFRAME                    ; no frame interrupts
        ldx #$FF
        txs
        inx                             ; X = 0
        stx PPUCTRL
        stx PPUMASK
        txa
@clear: sta $00,x
        sta $0200,x
        sta $0300,x
        sta $0400,x
        sta $0500,x
        sta $0600,x
        sta $0700,x
        inx
        bne @clear
        dex
        stx random                      ; any start but 0
        stx random + 1
        ldy #28                         ; 28 x 256 x 5 cycles: longer than the raster unit takes to warm up (33132 cycles at
        ldx #0                          ; 50 Hz, 35344 on the clone)
@warm:  dex
        bne @warm
        dey
        bne @warm
        jsr find_timing
        jsr set_clock
        jsr hide_all
        jsr hide_flash
        jsr forget_places
        .if IS_CALIBRATED
        jsr clear_calibration
        .endif
        lda #MODE_QUIET
        sta mode
        jsr wait_frame
        jsr read_pad
        lda buttons
        and #BUTTON_SELECT              ; Select held at power-on: straight to the practice street
        beq @title
        lda #SCREEN_PRACTICE
        jmp begin
@title: jmp title

; Count how often an 11-cycle loop runs from one NMI to the next: 2707 at 60 Hz, 3022 at 50 Hz, 3224 on the 50 Hz clone
; (hardware documentation wiki, page "Detect TV system"). The NMI handler marks the frames. A loop that waited for the
; vblank flag itself could miss it: on the clone a frame is 8 x 4433 cycles, so that an 8-cycle loop meets the flag at the
; same cycle in every frame, and if that is the one before it is set, the flag is cleared unseen for ever.
find_timing:
        lda #%10000000                  ; the first NMI may come at once, from a flag that was set before
        sta PPUCTRL
        jsr wait_frame
        jsr wait_frame
        ldx #0
        ldy #0
@count: inx                             ; 2
        bne @same                       ; 3
        iny
@same:  lda frameDone                   ; 3
        beq @count                      ; 3
        ldx #0
        cpy #11                         ; 11 x 256 = 2816 lies between the first two, 12 x 256 = 3072 between the others
        bcc @found
        inx
        cpy #12
        bcc @found
        inx
@found: stx timing
        lda #0
        sta frameDone
        rts

; Wait until an NMI has come.
wait_frame:
        lda #0
        sta frameDone
@wait:  lda frameDone
        beq @wait
        lda #0
        sta frameDone
        rts
